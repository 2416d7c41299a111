'use strict';
// Points read off a picture: what is clicked becomes [parts] and [sketch] of a tool file, as text, at once.
(() => {
  const find = (query) => document.querySelector(query);
  const frame = find('.window'), stage = find('.stage'), over = find('.stage svg'), picture = find('.stage img');
  const wide = Number(picture.getAttribute('width')), tall = Number(picture.getAttribute('height'));
  const points = [], ends = { from: null, to: null };
  let zoom = 1, active = null, datum = null, named = 0;

  const make = (name, attributes, space) => {
    const node = space ? document.createElementNS(space, name) : document.createElement(name);
    for (const key in attributes) node.setAttribute(key, attributes[key]);
    return node;
  };
  const SVG = 'http://www.w3.org/2000/svg';

  const clamp = (value, most) => Math.min(Math.max(value, 0), most);
  // Finer than a pixel only where the picture is drawn larger than it is.
  const round = (value) => (zoom > 1 ? Math.round(value * 10) / 10 : Math.round(value));
  // Many browsers tell only the pixel of the screen: what is meant is its middle.
  const middle = (value) => (Number.isInteger(value) ? value + 0.5 : value);
  const pixel = (event) => {
    const box = stage.getBoundingClientRect();
    return { x: round(clamp((middle(event.clientX) - box.left) / zoom, wide)), y: round(clamp((middle(event.clientY) - box.top) / zoom, tall)) };
  };

  // A name as TOML has it: bare where that is allowed.
  const quoted = (name) => JSON.stringify(name).replace(/\u007f/g, '\\u007F');
  const key = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : quoted(name));
  const pair = (at) => `[${at.x}, ${at.y}]`;
  const partsOf = (point) => [...new Set(point.parts.split(',').map((part) => part.trim()).filter((part) => part))];
  const allParts = () => [...new Set(points.flatMap(partsOf))];
  const length = () => {
    const text = find('#length').value.trim().replace(',', '.');
    return /^(\d+\.?\d*|\.\d+)$/.test(text) && Number(text) > 0 ? Number(text) : null;
  };
  const marked = (point) => {
    const [part] = partsOf(point);
    return quoted(`${part ?? 'PART'}.${point.name}`);
  };

  const problems = () => {
    const out = [];
    const names = new Map();
    for (const point of points) {
      const of = partsOf(point), name = point.name;
      const spot = point.kind === 'pin' ? name : `${of[0]}.${name}`;
      if (!name.trim()) out.push('A point has no name: type one.');
      if (/[.\u0000-\u001f]/.test(name)) out.push(`${name}: a name has no full stop in it; take it out.`);
      if (point.kind === 'pin' && ['scale', 'origin'].includes(name)) out.push(`${name}: the sketch has a key of that name; call the pin something else.`);
      if (names.has(spot)) out.push(`Two points are called ${name}: give one of them another name.`);
      names.set(spot, point);
      if (point.kind === 'pin' && of.length < 2) out.push(`Pin ${name}: type the parts that it joins, with commas between, e.g. lever, strut.`);
      if (point.kind === 'mark' && of.length !== 1) out.push(`Mark ${name}: type the one part that it is on.`);
    }
    if (!ends.from || !ends.to) out.push('Set both ends of a length that you know, far apart.');
    else if (Math.hypot(ends.to.x - ends.from.x, ends.to.y - ends.from.y) < 1) out.push('Both ends of the known length are in one place: set them far apart.');
    if (length() === null) out.push('Type the known length, a number above zero.');
    if (!points.includes(datum)) out.push('Choose the datum: the point of the fixed part where x and y are zero.');
    else if (!partsOf(datum).includes(find('#fixed').value)) out.push(`The datum ${datum.name} must be a point of the fixed part.`);
    return out;
  };

  const text = () => {
    const lines = ['[tool]', 'name = "My tool from a picture"', `units = "${find('#units').value}"`, ''];
    const fixed = find('#fixed').value;
    for (const part of allParts()) {
      const names = (kind) => points.filter((p) => p.kind === kind && (kind === 'pin' ? partsOf(p) : partsOf(p).slice(0, 1)).includes(part)).map((p) => quoted(p.name));
      lines.push(`[parts.${key(part)}]`);
      if (part === fixed) lines.push('fixed = true');
      for (const [kind, word] of [['pin', 'pins'], ['mark', 'marks']]) {
        if (names(kind).length) lines.push(`${word} = [${names(kind).join(', ')}]`);
      }
      lines.push('');
    }
    lines.push('[sketch]');
    if (ends.from && ends.to && length() !== null) lines.push(`scale = { from = ${pair(ends.from)}, to = ${pair(ends.to)}, length = ${length()} }`);
    if (points.includes(datum)) lines.push(`origin = ${quoted(datum.name)}`);
    for (const point of points) lines.push(`${point.kind === 'pin' ? key(point.name) : marked(point)} = ${pair(point)}`);
    return `${lines.join('\n')}\n`;
  };

  const draw = () => {
    over.replaceChildren();
    const size = 1 / zoom;
    const cross = (at, colour, name) => {
      for (const [line, width] of [['#ffffff', 4], [colour, 1.6]]) {
        const arm = 9 * size;
        const way = `M${at.x - arm} ${at.y}H${at.x + arm}M${at.x} ${at.y - arm}V${at.y + arm}`;
        over.append(make('path', { d: way, stroke: line, 'stroke-width': width * size, fill: 'none' }, SVG));
      }
      for (const own of [{ fill: 'none', stroke: '#ffffff', 'stroke-width': 4 * size }, { fill: colour }]) {
        const label = make('text', { x: at.x + 8 * size, y: at.y - 8 * size, 'font-size': 14 * size, ...own }, SVG);
        label.textContent = name;
        over.append(label);
      }
    };
    if (ends.from && ends.to) {
      const way = `M${ends.from.x} ${ends.from.y}L${ends.to.x} ${ends.to.y}`;
      over.append(make('path', { d: way, stroke: '#c44f00', 'stroke-width': 1.2 * size, 'stroke-dasharray': `${6 * size}`, fill: 'none' }, SVG));
    }
    for (const end of ['from', 'to']) if (ends[end]) cross(ends[end], '#c44f00', end === 'from' ? 'one end' : 'other end');
    for (const point of points) cross(point, point === active ? '#b0009f' : '#0072b2', point.name);
  };

  const show = () => {
    draw();
    const chosen = find('#fixed').value;
    find('#fixed').replaceChildren(...allParts().map((part) => {
      const option = make('option', { value: part });
      option.textContent = part;
      option.selected = part === chosen;
      return option;
    }));
    const far = ends.from && ends.to ? Math.hypot(ends.to.x - ends.from.x, ends.to.y - ends.from.y) : null;
    find('#span').textContent = far === null ? 'Set its two ends in the picture.' : `is ${far.toFixed(1)} pixels in the picture.`;
    find('#problems').replaceChildren(...problems().map((said) => {
      const item = make('li', {});
      item.textContent = said;
      return item;
    }));
    find('#text').textContent = text();
    find('#done').textContent = '';
  };

  const say = () => {
    find('#where').textContent = active ? `${active.name ?? 'End of the known length'}: x ${active.x}, y ${active.y}` : 'No point is set.';
  };

  const row = (point) => {
    const line = make('tr', {});
    const cell = (node) => { const td = make('td', {}); td.append(node); line.append(td); return node; };
    const field = (name, value, width) => {
      const input = cell(make('input', { type: 'text', 'aria-label': `${name} of point ${point.number}`, class: width }));
      input.value = value;
      return input;
    };
    const name = field('name', point.name, '');
    name.addEventListener('input', () => { point.name = name.value; show(); });
    const kind = cell(make('select', { 'aria-label': `kind of point ${point.number}` }));
    for (const value of ['pin', 'mark']) { const option = make('option', { value }); option.textContent = value; kind.append(option); }
    kind.addEventListener('change', () => { point.kind = kind.value; show(); });
    const parts = field('parts', point.parts, '');
    parts.addEventListener('input', () => { point.parts = parts.value; show(); });
    point.fields = {};
    for (const axis of ['x', 'y']) {
      const input = field(axis, point[axis], 'pixel');
      point.fields[axis] = input;
      input.addEventListener('change', () => {
        const value = Number(input.value.replace(',', '.'));
        if (input.value.trim() && Number.isFinite(value)) point[axis] = clamp(value, axis === 'x' ? wide : tall);
        input.value = point[axis];
        active = point;
        show(); say();
      });
    }
    const zero = cell(make('input', { type: 'radio', name: 'datum', 'aria-label': `datum at point ${point.number}` }));
    zero.checked = point === datum;
    zero.addEventListener('change', () => { datum = point; show(); });
    const away = cell(make('button', { type: 'button', 'aria-label': `take point ${point.number} away` }));
    away.textContent = 'Take away';
    away.addEventListener('click', () => remove(point));
    find('#rows').append(line);
    point.line = line;
    return name;
  };

  const remove = (point) => {
    const index = points.indexOf(point);
    if (index >= 0) { points.splice(index, 1); point.line.remove(); }
    for (const end of ['from', 'to']) if (ends[end] === point) ends[end] = null;
    if (datum === point) datum = null;
    active = points[points.length - 1] ?? null;
    show(); say();
  };

  const mode = () => find('input[name=mode]:checked').value;
  const set = (at) => {
    if (mode() === 'point') {
      named += 1;
      const point = { number: named, name: `p${named}`, kind: 'pin', parts: '', ...at };
      points.push(point);
      datum ??= point;
      active = point;
      row(point);
    } else {
      active = ends[mode()] = { ...at };
      if (mode() === 'from') find('input[value=to]').checked = true;
    }
    show(); say();
  };

  const scale = (value) => {
    const before = zoom;
    zoom = Math.min(Math.max(value, 0.02), 32);
    const [x, y] = [(frame.scrollLeft + frame.clientWidth / 2) / before, (frame.scrollTop + frame.clientHeight / 2) / before];
    stage.style.width = `${wide * zoom}px`;
    stage.style.height = `${tall * zoom}px`;
    frame.scrollLeft = x * zoom - frame.clientWidth / 2;
    frame.scrollTop = y * zoom - frame.clientHeight / 2;
    find('.zoom').textContent = `${Math.round(zoom * 100)} %`;
    draw();
  };
  const fit = () => scale(Math.min(frame.clientWidth / wide, frame.clientHeight / tall));

  stage.addEventListener('click', (event) => { set(pixel(event)); frame.focus({ preventScroll: true }); });
  frame.addEventListener('keydown', (event) => {
    const step = event.shiftKey ? 10 : 1;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (way && active) {
      active.x = Math.round(clamp(active.x + way[0] * step, wide) * 10) / 10;
      active.y = Math.round(clamp(active.y + way[1] * step, tall) * 10) / 10;
      if (active.fields) for (const axis of ['x', 'y']) active.fields[axis].value = active[axis];
      show(); say();
    } else if (event.key === 'Enter') {
      const box = stage.getBoundingClientRect(), seen = frame.getBoundingClientRect();
      set(pixel({ clientX: Math.min(seen.left + frame.clientWidth / 2, box.right), clientY: Math.min(seen.top + frame.clientHeight / 2, box.bottom) }));
    } else if (event.key === 'Delete' && active) remove(active);
    else if (event.key === '+') scale(zoom * 1.5);
    else if (event.key === '-') scale(zoom / 1.5);
    else return;
    event.preventDefault();
  });
  for (const button of document.querySelectorAll('[data-zoom]')) {
    button.addEventListener('click', () => {
      if (button.dataset.zoom === 'fit') fit();
      else scale(zoom * (button.dataset.zoom === 'in' ? 1.5 : 1 / 1.5));
    });
  }
  for (const query of ['#length', '#units', '#fixed']) find(query).addEventListener('input', show);
  find('#copy').addEventListener('click', async () => {
    try {
      await navigator.clipboard.writeText(find('#text').textContent);
      find('#done').textContent = 'Copied.';
    } catch {
      getSelection().selectAllChildren(find('#text'));
      find('#done').textContent = 'The text is marked: copy it with the keys of your system.';
    }
  });
  find('#save').addEventListener('click', () => {
    const file = URL.createObjectURL(new Blob([find('#text').textContent], { type: 'text/plain' }));
    make('a', { href: file, download: 'tool.toml' }).click();
    setTimeout(() => URL.revokeObjectURL(file), 60000);
    find('#done').textContent = 'Saved as tool.toml, where your browser puts what it saves.';
  });

  find('main').hidden = false;
  fit(); show(); say();
})();
