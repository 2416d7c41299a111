"use strict";
// Steps through the positions of a stroke; the page says everything without it too.
for (const box of document.querySelectorAll(".step")) {
  const rows = JSON.parse(box.dataset.rows);
  const [slider, shown] = [box.querySelector("input"), box.querySelector("output")];
  slider.max = rows.length - 1;
  const show = () => { shown.textContent = rows[slider.value]; };
  slider.addEventListener("input", show);
  box.hidden = false;
  show();
}
