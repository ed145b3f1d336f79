// The drawn skyline takes points: a click, or arrows and Enter, writes one into the rows.
// <figure data-horizon> says where the drawing's corners stand in degrees and in its own
// units; <template data-point-row> holds an empty row; the rows stand in data-points.
"use strict";

(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const figure = document.querySelector("[data-horizon]");
  const rows = document.querySelector("[data-points] tbody");
  const blank = document.querySelector("[data-point-row]");
  const total = document.querySelector("[name=points-TOTAL_FORMS]");
  const svg = figure && figure.querySelector("svg");
  if (!svg || !rows || !blank || !total) return;

  const said = (name) => Number(figure.dataset[name]);
  const [left, right, top, base] = ["left", "right", "top", "base"].map(said);
  const first = said("first");
  const highest = said("highest");
  const most = Number(figure.dataset.most);
  const told = figure.querySelector("[data-told]");
  const at = { azimuth: 180, height: 5 };

  const round = (value) => Math.round(value * 2) / 2;
  const clamp = (value, low, high) => Math.min(Math.max(value, low), high);
  const xOf = (azimuth) => left + ((((azimuth - first) % 360) + 360) % 360) / 360 * (right - left);
  const yOf = (height) => base - (height / highest) * (base - top);

  const place = (event) => {
    const matrix = svg.getScreenCTM();
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const share = clamp((point.x - left) / (right - left), 0, 1);
    const up = clamp((base - point.y) / (base - top), 0, 1);
    return { azimuth: round((first + share * 360) % 360), height: round(up * highest) };
  };

  const dot = (point, classes) => {
    const circle = document.createElementNS(SVG, "circle");
    circle.setAttribute("class", classes);
    circle.setAttribute("r", "5");
    svg.append(circle);
    move(circle, point);
    return circle;
  };

  const move = (circle, point) => {
    circle.setAttribute("cx", xOf(point.azimuth));
    circle.setAttribute("cy", yOf(point.height));
  };

  const box = (row, name) => row.querySelector(`[name$="-${name}"]`);

  const emptyRow = () =>
    [...rows.rows].find((row) => box(row, "azimuth") && !box(row, "azimuth").value && !box(row, "height").value);

  const newRow = () => {
    const number = Number(total.value);
    if (number >= most) return null;
    const made = document.createElement("tbody");
    made.innerHTML = blank.innerHTML.replaceAll("__prefix__", String(number));
    const row = made.rows[0];
    rows.append(row);
    total.value = String(number + 1);
    return row;
  };

  const add = (point) => {
    const row = emptyRow() || newRow();
    if (!row) {
      told.textContent = `There are ${most} points already.`;
      return;
    }
    box(row, "azimuth").value = String(point.azimuth);
    box(row, "height").value = String(point.height);
    dot(point, "point-new");
    told.textContent = `Added: ${point.height}° high at ${point.azimuth}°. Say in its row what stands there, then keep the skyline.`;
  };

  const cross = dot(at, "point-cursor");
  const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 0.5], ArrowDown: [0, -0.5] };

  const key = (event) => {
    if (event.key === "Enter") {
      event.preventDefault();
      add({ ...at });
    }
    const step = steps[event.key];
    if (!step) return;
    event.preventDefault();
    const times = event.shiftKey ? 10 : 1;
    at.azimuth = (at.azimuth + step[0] * times + 360) % 360;
    at.height = clamp(at.height + step[1] * times, 0, highest);
    move(cross, at);
    told.textContent = `${at.azimuth}°, ${at.height}° high. Enter adds it.`;
  };

  svg.classList.add("takes-points");
  svg.setAttribute("tabindex", "0");
  svg.setAttribute("role", "application");
  svg.setAttribute("aria-label", "Skyline: arrows move, Enter adds a point");
  svg.addEventListener("keydown", key);
  svg.addEventListener("click", (event) => {
    Object.assign(at, place(event));
    move(cross, at);
    add({ ...at });
  });
})();
