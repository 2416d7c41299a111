'use strict';
// Points read off a picture: what is clicked becomes [parts] and [sketch] of a tool file, as text, at once.
(() => {
  const find = (query) => document.querySelector(query);
  const frame = find('.window'), stage = find('.stage'), over = find('.stage svg'), picture = find('.stage img');
  const wide = Number(picture.getAttribute('width')), tall = Number(picture.getAttribute('height'));
  const NEAR = 6;
  const words = { pin: 'pins', mark: 'marks', from: 'One end of the known length', to: 'Other end of the known length' };
  // All that undo brings back. `datum` and `active` are points of `points`; `active` may be an end too.
  let points = [], ends = { from: null, to: null }, datum = null, active = null, named = 0;
  let zoom = 1;

  const make = (name, attributes, text) => {
    const node = document.createElement(name);
    for (const key in attributes) node.setAttribute(key, attributes[key]);
    if (text !== undefined) node.textContent = text;
    return node;
  };
  const ink = (name, attributes) => {
    const node = document.createElementNS('http://www.w3.org/2000/svg', name);
    for (const key in attributes) node.setAttribute(key, attributes[key]);
    over.append(node);
    return node;
  };

  // Undo: what was there before each change. Changes that follow each other under one tag (moves of a point, letters of
  // a name) are one.
  const past = [];
  let last = null;
  const state = () => JSON.stringify({
    points: points.map(({ number, name, kind, parts, x, y }) => ({ number, name, kind, parts, x, y })),
    ends, named, datum: points.indexOf(datum), active: points.indexOf(active),
  });
  const change = (tag, action) => {
    if (tag === null || tag !== last) past.push(state());
    last = tag;
    action();
    show();
  };
  const undo = () => {
    if (!past.length) return;
    const old = JSON.parse(past.pop());
    ({ points, ends, named } = old);
    datum = points[old.datum] ?? null;
    active = points[old.active] ?? null;
    last = null;
    find('#rows').replaceChildren();
    points.forEach(row);
    show();
  };

  const clamp = (value, most) => Math.min(Math.max(value, 0), most);
  // Finer than a pixel only where the picture is drawn larger than it is.
  const round = (value) => (zoom > 1 ? Math.round(value * 10) / 10 : Math.round(value));
  // Many browsers tell only the pixel of the screen: what is meant is its middle.
  const middle = (value) => (Number.isInteger(value) ? value + 0.5 : value);
  const pixel = (x, y) => {
    const box = stage.getBoundingClientRect();
    return { x: round(clamp((x - box.left) / zoom, wide)), y: round(clamp((y - box.top) / zoom, tall)) };
  };
  const far = (a, b) => Math.hypot(a.x - b.x, a.y - b.y);

  // A name as TOML has it: bare where that is allowed.
  const quoted = (name) => JSON.stringify(name).replace(/\u007f/g, '\\u007F');
  const bare = (name) => (/^[A-Za-z0-9_-]+$/.test(name) ? name : quoted(name));
  const pair = (at) => `[${at.x}, ${at.y}]`;
  const partsOf = (point) => [...new Set(point.parts.split(',').map((part) => part.trim()).filter((part) => part))];
  const allParts = () => [...new Set(points.flatMap(partsOf))];
  const length = () => {
    const text = find('#length').value.trim().replace(',', '.');
    return /^(\d+\.?\d*|\.\d+)$/.test(text) && Number(text) > 0 ? Number(text) : null;
  };

  const problems = () => {
    const out = [];
    const spots = new Set();
    for (const point of points) {
      const of = partsOf(point), name = point.name;
      const spot = point.kind === 'pin' ? name : `${of[0]}.${name}`;
      if (!name.trim()) out.push('A point has no name: type one.');
      if (/[.\u0000-\u001f]/.test(name)) out.push(`${name}: a name has no full stop in it; take it out.`);
      if (point.kind === 'pin' && ['scale', 'origin'].includes(name)) out.push(`${name}: the sketch has a key of that name; call the pin something else.`);
      if (spots.has(spot)) out.push(`Two points are called ${name}: give one of them another name.`);
      spots.add(spot);
      if (point.kind === 'pin' && of.length < 2) out.push(`Pin ${name}: type the parts that it joins, with commas between, e.g. lever, strut.`);
      if (point.kind === 'mark' && of.length !== 1) out.push(`Mark ${name}: type the one part that it is on.`);
    }
    if (!ends.from || !ends.to) out.push('Set both ends of a length that you know, far apart.');
    else if (far(ends.from, ends.to) < 1) out.push('Both ends of the known length are in one place: set them far apart.');
    if (length() === null) out.push('Type the known length, a number above zero.');
    if (!datum) out.push('Choose the datum: the point of the fixed part where x and y are zero.');
    else if (!partsOf(datum).includes(find('#fixed').value)) out.push(`The datum ${datum.name} must be a point of the fixed part.`);
    else if (points.some((point) => point !== datum && point.name === datum.name)) out.push(`The datum ${datum.name} needs a name that no other point has.`);
    return out;
  };

  const text = () => {
    const lines = [`# ${document.title}`, '', '[tool]', 'name = "My tool from a picture"', `units = "${find('#units').value}"`, ''];
    for (const part of allParts()) {
      lines.push(`[parts.${bare(part)}]`);
      if (part === find('#fixed').value) lines.push('fixed = true');
      for (const kind of ['pin', 'mark']) {
        const names = points.filter((point) => point.kind === kind && partsOf(point).includes(part));
        if (names.length) lines.push(`${words[kind]} = [${names.map((point) => quoted(point.name)).join(', ')}]`);
      }
      lines.push('');
    }
    lines.push('[sketch]');
    if (ends.from && ends.to && length() !== null) lines.push(`scale = { from = ${pair(ends.from)}, to = ${pair(ends.to)}, length = ${length()} }`);
    if (datum) lines.push(`origin = ${quoted(datum.name)}`);
    for (const point of points) {
      const name = point.kind === 'pin' ? bare(point.name) : quoted(`${partsOf(point)[0] ?? 'PART'}.${point.name}`);
      lines.push(`${name} = ${pair(point)}`);
    }
    return `${lines.join('\n')}\n`;
  };

  // Crosses and names keep their size on the screen at every zoom.
  const draw = () => {
    over.replaceChildren();
    const size = 1 / zoom;
    const cross = (at, colour, name, below) => {
      const arm = 9 * size;
      const d = `M${at.x - arm} ${at.y}H${at.x + arm}M${at.x} ${at.y - arm}V${at.y + arm}`;
      ink('path', { d, stroke: '#ffffff', 'stroke-width': 4 * size });
      ink('path', { d, stroke: colour, 'stroke-width': 1.6 * size });
      if (at === active) ink('circle', { cx: at.x, cy: at.y, r: 12 * size, fill: 'none', stroke: colour, 'stroke-width': 1.6 * size });
      const place = { x: at.x + 8 * size, y: at.y + below * size, 'font-size': 14 * size };
      ink('text', { ...place, stroke: '#ffffff', 'stroke-width': 4 * size }).textContent = name;
      ink('text', { ...place, fill: colour }).textContent = name;
    };
    if (ends.from && ends.to) {
      const d = `M${ends.from.x} ${ends.from.y}L${ends.to.x} ${ends.to.y}`;
      ink('path', { d, stroke: '#c44f00', 'stroke-width': 1.2 * size, 'stroke-dasharray': 6 * size });
    }
    for (const end of ['from', 'to']) if (ends[end]) cross(ends[end], '#c44f00', end === 'from' ? 'one end' : 'other end', 19);
    for (const point of points) cross(point, point === active ? '#b0009f' : '#0072b2', point.name, -8);
  };

  const show = () => {
    const chosen = find('#fixed').value;
    find('#fixed').replaceChildren(...allParts().map((part) => {
      const option = make('option', { value: part }, part);
      option.selected = part === chosen;
      return option;
    }));
    for (const point of points) {
      point.line.classList.toggle('active', point === active);
      for (const axis of ['x', 'y']) point.fields[axis].value = point[axis];
      point.zero.checked = point === datum;
    }
    const both = ends.from && ends.to;
    find('#span').textContent = both ? `is ${far(ends.from, ends.to).toFixed(1)} pixels in the picture.` : 'Set its two ends in the picture.';
    const said = problems();
    find('#problems').replaceChildren(...said.map((line) => make('li', {}, line)));
    find('#next').hidden = said.length > 0;
    find('#text').textContent = text();
    find('#done').textContent = '';
    find('#undo').disabled = !past.length;
    const what = active && (points.includes(active) ? active.name : words[active === ends.from ? 'from' : 'to']);
    find('#where').textContent = active ? `${what}: x ${active.x}, y ${active.y}` : 'No point is set.';
    draw();
  };

  const activate = (point) => {
    if (point === active) return;
    active = point;
    last = null;
    show();
  };

  const row = (point) => {
    const line = make('tr', {});
    const cell = (head, node) => {
      const td = make('td', { 'data-is': head });
      td.append(node);
      line.append(td);
      return node;
    };
    const field = (what, wide) => {
      const input = cell(what, make('input', { type: 'text', 'aria-label': `${what} of point ${point.number}`, class: wide, autocomplete: 'off', spellcheck: 'false' }));
      input.value = point[what];
      return input;
    };
    const typed = (what) => {
      const input = field(what, 'word');
      input.addEventListener('input', () => change(`${what} ${point.number}`, () => { point[what] = input.value; }));
      return input;
    };
    point.field = typed('name');
    // Back to the picture, where the next point is set.
    point.field.addEventListener('keydown', (event) => { if (event.key === 'Enter') frame.focus(); });
    const kind = cell('kind', make('select', { 'aria-label': `kind of point ${point.number}` }));
    kind.append(...['pin', 'mark'].map((value) => make('option', { value }, value)));
    kind.value = point.kind;
    kind.addEventListener('change', () => change(null, () => { point.kind = kind.value; }));
    typed('parts').placeholder = 'lever, strut';
    point.fields = {};
    for (const axis of ['x', 'y']) {
      const input = point.fields[axis] = field(axis, 'pixel');
      input.inputMode = 'decimal';
      input.addEventListener('change', () => change(null, () => {
        const value = Number(input.value.replace(',', '.'));
        if (input.value.trim() && Number.isFinite(value)) point[axis] = clamp(value, axis === 'x' ? wide : tall);
      }));
    }
    point.zero = cell('datum', make('input', { type: 'radio', name: 'datum', 'aria-label': `datum at point ${point.number}` }));
    point.zero.addEventListener('change', () => change(null, () => { datum = point; }));
    const away = cell('', make('button', { type: 'button', 'aria-label': `delete point ${point.number}` }, 'Delete'));
    away.addEventListener('click', () => { remove(point); frame.focus({ preventScroll: true }); });
    line.addEventListener('focusin', (event) => { if (event.target !== away) activate(point); });
    find('#rows').append(line);
    point.line = line;
  };

  const remove = (point) => change(null, () => {
    for (const end of ['from', 'to']) if (ends[end] === point) ends[end] = null;
    if (points.includes(point)) {
      point.line.remove();
      points = points.filter((other) => other !== point);
    }
    if (datum === point) datum = null;
    active = points.at(-1) ?? null;
  });

  // A point at a pixel of the screen. One that is there already is taken up, or is an end of the known length.
  const set = (x, y) => {
    const mode = find('input[name=mode]:checked').value;
    let at = pixel(x, y);
    const near = points.filter((point) => far(point, at) * zoom <= NEAR).sort((a, b) => far(a, at) - far(b, at))[0];
    if (mode === 'point') {
      if (near) { activate(near); return; }
      change(null, () => {
        named += 1;
        active = { number: named, name: `p${named}`, kind: 'pin', parts: '', ...at };
        points.push(active);
        datum ??= active;
        row(active);
      });
      return;
    }
    if (near) at = { x: near.x, y: near.y };
    change(null, () => { active = ends[mode] = at; });
    find(`input[value=${mode === 'from' ? 'to' : 'point'}]`).checked = true;
  };

  const follow = () => {
    const edge = 30;
    const seen = (at, from, size) => Math.min(Math.max(from, at - size + edge), Math.max(at - edge, 0));
    frame.scrollLeft = seen(active.x * zoom, frame.scrollLeft, frame.clientWidth);
    frame.scrollTop = seen(active.y * zoom, frame.scrollTop, frame.clientHeight);
  };

  // What is `x`, `y` from the corner of the window stays there.
  const scale = (value, x = frame.clientWidth / 2, y = frame.clientHeight / 2) => {
    const at = [(frame.scrollLeft + x - stage.offsetLeft) / zoom, (frame.scrollTop + y - stage.offsetTop) / zoom];
    zoom = Math.min(Math.max(value, 0.02), 32);
    stage.style.width = `${wide * zoom}px`;
    stage.style.height = `${tall * zoom}px`;
    stage.classList.toggle('coarse', zoom >= 4);
    frame.scrollLeft = at[0] * zoom - x + stage.offsetLeft;
    frame.scrollTop = at[1] * zoom - y + stage.offsetTop;
    find('.zoom').textContent = `${Math.round(zoom * 100)} %`;
    draw();
  };
  const zooms = {
    in: () => scale(zoom * 1.5),
    out: () => scale(zoom / 1.5),
    fit: () => scale(Math.min(frame.clientWidth / wide, (parseFloat(getComputedStyle(frame).maxHeight) - 4) / tall)),
  };

  stage.addEventListener('click', (event) => {
    set(middle(event.clientX), middle(event.clientY));
    frame.focus({ preventScroll: true });
  });
  frame.addEventListener('wheel', (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    const box = frame.getBoundingClientRect();
    scale(zoom * 1.2 ** -Math.sign(event.deltaY), event.clientX - box.left, event.clientY - box.top);
  }, { passive: false });
  frame.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const step = event.shiftKey ? 10 : 1;
    const way = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[event.key];
    if (way && active) {
      const tenths = (value) => Math.round(value * 10) / 10;
      change(active, () => {
        active.x = tenths(clamp(active.x + way[0], wide));
        active.y = tenths(clamp(active.y + way[1], tall));
      });
      follow();
    } else if (event.key === 'Enter') {
      const box = stage.getBoundingClientRect(), seen = frame.getBoundingClientRect();
      set(Math.min(seen.left + frame.clientWidth / 2, box.right), Math.min(seen.top + frame.clientHeight / 2, box.bottom));
    } else if (event.key === 'Delete' && active) remove(active);
    else if (event.key === 'n' && active?.field) { active.field.focus(); active.field.select(); }
    else if (event.key === '+') zooms.in();
    else if (event.key === '-') zooms.out();
    else if (event.key === '0') zooms.fit();
    else return;
    event.preventDefault();
  });
  document.addEventListener('keydown', (event) => {
    const typing = event.target.matches('input[type=text]');
    if (event.key !== 'z' || !(event.ctrlKey || event.metaKey) || event.shiftKey || typing) return;
    event.preventDefault();
    undo();
  });
  find('#undo').addEventListener('click', undo);
  for (const button of document.querySelectorAll('[data-zoom]')) button.addEventListener('click', zooms[button.dataset.zoom]);
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
  // Points live in the page alone: closing it asks first.
  addEventListener('beforeunload', (event) => { if (points.length) event.preventDefault(); });

  find('main').hidden = false;
  zooms.fit();
  show();
})();
