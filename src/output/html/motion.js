"use strict";
// Moves the linkage and a cursor to the solved position that a slider chooses. The pictures and tables of the
// page say everything without it.
for (const box of document.querySelectorAll(".motion")) {
  const data = JSON.parse(box.querySelector("script").textContent);
  const [slider, where, note] = ["input", ".where", ".note"].map(of => box.querySelector(of));
  const chart = box.querySelector(".forces svg");
  const add = (name, attributes) => {
    const made = document.createElementNS(chart.namespaceURI, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return chart.appendChild(made);
  };
  const [top, bottom] = data.ends;
  const cursor = add("line", { class: "cursor", y1: top - 4, y2: bottom + 4, stroke: "#b4430f", "stroke-width": 1.5 });
  const dots = data.dots.map(([colour]) => add("circle", { r: 4.5, fill: colour, stroke: "#ffffff" }));
  const parts = [...box.querySelectorAll("[data-part]")];
  const coils = [...box.querySelectorAll("[data-coil]")].map(path => ({
    path,
    on: path.dataset.parts.split(",").map(part => part === "" ? -1 : Number(part)),
    ends: path.dataset.ends.split(",").map(Number),
    corners: path.dataset.coil.split(" ").map(corner => corner.split(",").map(Number)),
  }));
  const cells = [...box.querySelectorAll(".readout tbody tr")].map(row => [...row.querySelectorAll("td")]);
  const jumps = [...box.querySelectorAll("[data-row]")];
  const placed = (x, y, by) => {
    const [dx, dy, angle] = by || [0, 0, 0];
    const [cos, sin] = [Math.cos(angle * Math.PI / 180), Math.sin(angle * Math.PI / 180)];
    return [cos * x - sin * y + dx, sin * x + cos * y + dy];
  };
  const show = () => {
    const row = Number(slider.value);
    const moved = data.moved[row];
    for (const part of parts) {
      const [x, y, angle] = moved[part.dataset.part];
      part.setAttribute("transform", `translate(${x} ${y}) rotate(${angle})`);
    }
    for (const { path, on, ends, corners } of coils) {
      const [a, b] = [0, 1].map(k => placed(ends[2 * k], ends[2 * k + 1], moved[on[k]]));
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const long = Math.hypot(dx, dy) || 1;
      const at = ([share, off]) => [a[0] + share * dx - off * dy / long, a[1] + share * dy + off * dx / long];
      path.setAttribute("d", "M" + corners.map(c => at(c).map(v => v.toFixed(2)).join(" ")).join("L"));
    }
    // On a narrow screen the chart scrolls: the cursor stays in sight.
    const paper = chart.parentElement;
    paper.scrollLeft = paper.scrollWidth * data.places[row] / chart.viewBox.baseVal.width - paper.clientWidth / 2;
    for (const end of ["x1", "x2"]) cursor.setAttribute(end, data.places[row]);
    dots.forEach((dot, k) => {
      const height = data.dots[k][1][row];
      dot.setAttribute("visibility", height === null ? "hidden" : "visible");
      dot.setAttribute("cx", data.places[row]);
      dot.setAttribute("cy", height === null ? top : height);
    });
    data.cells[row].forEach((grip, k) => grip.forEach((text, column) => {
      cells[k][column].textContent = text;
      cells[k][column].classList.toggle("bad", text.endsWith(data.over));
    }));
    where.textContent = data.where[row];
    slider.setAttribute("aria-valuetext", data.where[row]);
    note.textContent = data.notes[row] || "";
    for (const jump of jumps) jump.setAttribute("aria-pressed", jump.dataset.row === slider.value);
  };
  slider.addEventListener("input", show);
  box.querySelector(".bar").addEventListener("click", event => {
    const button = event.target.closest("button");
    if (!button) return;
    const { step, row } = button.dataset;
    slider.value = step ? Number(slider.value) + Number(step) : row;
    show();
  });
  box.hidden = false;
  show();
}
