// Copies what stands beside a button, and says so.
// <button type="button" hidden data-copy="#id-of-the-text">Copy</button>
// The button is hidden until script can do its work.
"use strict";

(() => {
  const said = (button, words) => {
    const label = button.querySelector("[data-copy-label]") || button;
    const before = label.textContent;
    label.textContent = words;
    button.setAttribute("aria-live", "polite");
    window.setTimeout(() => {
      label.textContent = before;
    }, 2500);
  };

  const selectInstead = (source) => {
    const range = document.createRange();
    range.selectNodeContents(source);
    const selection = window.getSelection();
    selection.removeAllRanges();
    selection.addRange(range);
  };

  const copy = async (button) => {
    const source = document.querySelector(button.dataset.copy);
    if (!source) return;
    const text = "value" in source ? source.value : source.textContent.trim();
    try {
      await navigator.clipboard.writeText(text);
      said(button, "Copied");
    } catch {
      selectInstead(source);
      said(button, "Selected");
    }
  };

  const show = (root) => {
    root.querySelectorAll("button[data-copy][hidden]").forEach((button) => {
      button.hidden = false;
    });
  };

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-copy]");
    if (button) copy(button);
  });
  document.addEventListener("htmx:load", (event) => show(event.target));
  show(document);
})();
