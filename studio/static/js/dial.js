// The dial of a set-up, turned by dragging.
// <div data-dial> holds the drawing; each slider in <div data-handles> says where its
// handle stands: data-base + data-sign * value degrees from north, data-share of the
// radius out. A slider that has changed is sent by htmx, as when it is moved by key.
"use strict";

(() => {
  const REACH = 30; // pixels from a handle within which a press takes hold of it
  const RIM = 0.76; // the ring's radius as a share of half the drawing

  const azimuth = (slider) =>
    Number(slider.dataset.base) + Number(slider.dataset.sign) * Number(slider.value);

  const middle = (box) => {
    const rect = box.querySelector("svg").getBoundingClientRect();
    return { x: rect.x + rect.width / 2, y: rect.y + rect.height / 2, rim: (rect.width / 2) * RIM };
  };

  const distance = (slider, event, centre) => {
    const angle = (azimuth(slider) * Math.PI) / 180;
    const reach = Number(slider.dataset.share) * centre.rim;
    const x = centre.x + reach * Math.sin(angle);
    const y = centre.y - reach * Math.cos(angle);
    return Math.hypot(event.clientX - x, event.clientY - y);
  };

  const nearest = (box, event) => {
    const centre = middle(box);
    const sliders = [...document.querySelectorAll("[data-handles] input[type=range]")];
    const near = sliders.map((slider) => [distance(slider, event, centre), slider]);
    near.sort((one, other) => one[0] - other[0]);
    return near.length && near[0][0] <= REACH ? near[0][1] : null;
  };

  const turn = (slider, box, event) => {
    const centre = middle(box);
    const angle = Math.atan2(event.clientX - centre.x, centre.y - event.clientY);
    const degrees = (angle * 180) / Math.PI;
    const away = (degrees - Number(slider.dataset.base)) * Number(slider.dataset.sign);
    const lowest = Number(slider.min);
    slider.value = ((((away - lowest) % 360) + 360) % 360) + lowest;
  };

  const hold = (box, event) => {
    const slider = nearest(box, event);
    if (!slider) return;
    event.preventDefault();
    box.setPointerCapture(event.pointerId);
    const move = (moved) => turn(slider, box, moved);
    const drop = () => {
      box.removeEventListener("pointermove", move);
      slider.dispatchEvent(new Event("change", { bubbles: true }));
    };
    box.addEventListener("pointermove", move);
    box.addEventListener("pointerup", drop, { once: true });
  };

  const wake = () => {
    document.querySelectorAll("[data-dial]:not(.turns-by-hand)").forEach((box) => {
      box.classList.add("turns-by-hand");
      box.addEventListener("pointerdown", (event) => hold(box, event));
    });
  };

  document.addEventListener("htmx:afterSettle", wake);
  wake();
})();
