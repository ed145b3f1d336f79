// A menu is a details element and works without this; here it also closes by Escape,
// by a click elsewhere, and when the focus leaves it.
"use strict";

(() => {
  const open = () => document.querySelectorAll("details[data-menu][open]");

  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    open().forEach((menu) => {
      const inside = menu.contains(document.activeElement);
      menu.open = false;
      if (inside) menu.querySelector("summary").focus();
    });
  });

  document.addEventListener("click", (event) => {
    open().forEach((menu) => {
      if (!menu.contains(event.target)) menu.open = false;
    });
  });

  document.addEventListener("focusin", (event) => {
    open().forEach((menu) => {
      if (!menu.contains(event.target)) menu.open = false;
    });
  });
})();
