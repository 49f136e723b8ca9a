// A crosshair for plots, by pointer or by arrow keys: it says where it stands, in
// the units of the axes. What the curve says there is for the reader to see.
'use strict';
(() => {
  const svg = 'http://www.w3.org/2000/svg';
  const scale = (d, a) => {
    const [p0, p1, min, max] = [a + '0', a + '1', a + 'Min', a + 'Max'].map(k => Number(d[k]));
    const log = d[a + 'Scale'] === 'log';
    return {
      p0, p1, unit: d[a + 'Unit'],
      value: p => log ? min * (max / min) ** ((p - p0) / (p1 - p0)) : min + (max - min) * (p - p0) / (p1 - p0),
    };
  };
  const three = v => String(Number(v.toPrecision(3))).replace('-', '−');
  const between = (v, a, b) => Math.min(Math.max(v, Math.min(a, b)), Math.max(a, b));

  const ready = plot => {
    const x = scale(plot.dataset, 'x'), y = scale(plot.dataset, 'y');
    if (![x.p0, x.p1, y.p0, y.p1].every(Number.isFinite)) return;
    const lines = document.createElementNS(svg, 'path');
    lines.setAttribute('class', 'crosshair');
    plot.append(lines);
    const out = document.createElement('p');
    out.className = 'reading-off';
    out.setAttribute('role', 'status');
    out.textContent = 'Point at the curve, or use the arrow keys, to read it off.';
    plot.after(out);
    plot.tabIndex = 0;
    let at = [(x.p0 + x.p1) / 2, (y.p0 + y.p1) / 2];
    const show = (px, py) => {
      at = [between(px, x.p0, x.p1), between(py, y.p0, y.p1)];
      lines.setAttribute('d', `M${at[0]} ${y.p0}V${y.p1}M${x.p0} ${at[1]}H${x.p1}`);
      const say = (s, p) => (three(s.value(p)) + ' ' + s.unit).trim();
      out.textContent = 'across ' + say(x, at[0]) + ', up ' + say(y, at[1]);
    };
    plot.addEventListener('pointermove', e => {
      const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(plot.getScreenCTM().inverse());
      show(p.x, p.y);
    });
    plot.addEventListener('keydown', e => {
      const step = e.shiftKey ? 10 : 1;
      const move = {ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step]}[e.key];
      if (!move) return;
      e.preventDefault();
      show(at[0] + move[0], at[1] + move[1]);
    });
  };
  document.querySelectorAll('svg.plot[data-x0]').forEach(ready);
  addEventListener('swapped', e => e.target.querySelectorAll('svg.plot[data-x0]').forEach(ready));
})();
