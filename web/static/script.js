// Improves pages that work without it: forms swap their part of the page in
// place, and the answer box says how it reads what is typed.
'use strict';
(() => {
  const one = (sel, root = document) => root.querySelector(sel);

  // What was typed into other boxes survives a swap.
  const typed = root => [...root.querySelectorAll('input[type=text],select')]
    .filter(f => f.value !== (f.tagName === 'SELECT' ? (one('option[selected]', f) || {value: ''}).value : f.defaultValue))
    .map(f => [f.id || f.name, f.value]);
  const restore = (root, kept, sent) => kept.forEach(([name, value]) => {
    const f = root.querySelector(`#${CSS.escape(name)},[name="${CSS.escape(name)}"]`);
    if (f && !sent.has(name)) f.value = value;
  });

  // A page that says why a form was not taken is told beside the form.
  const complain = (form, doc) => {
    let p = one('.bad', form);
    if (!p) {
      p = document.createElement('p');
      p.className = 'bad';
      p.tabIndex = -1;
      p.setAttribute('role', 'alert');
      form.append(p);
    }
    p.textContent = ['h1', '.lead'].map(sel => one(sel, doc)).filter(Boolean).map(x => x.textContent).join('. ') || 'This could not be sent.';
    p.focus();
  };

  const swap = async (form, target, url, options, focus) => {
    const old = one(target);
    const r = await fetch(url, options);
    const doc = new DOMParser().parseFromString(await r.text(), 'text/html');
    const fresh = one(target, doc);
    if (!fresh || !old) {
      if (r.redirected || r.ok) location.assign(r.url);
      else complain(form, doc);
      return;
    }
    const kept = typed(old);
    const sent = new Set(options && options.sent);
    old.replaceWith(fresh);
    restore(fresh, kept, sent);
    document.title = doc.title;
    prepare(fresh);
    fresh.dispatchEvent(new Event('swapped', {bubbles: true}));
    const to = (focus || '').split(',').map(sel => sel && one(sel)).find(Boolean) || fresh;
    if (!to.hasAttribute('tabindex')) to.tabIndex = -1;
    to.focus({preventScroll: true});
    to.scrollIntoView({block: 'nearest'});
  };

  addEventListener('submit', async e => {
    const f = e.target, target = f.dataset.swap;
    if (!target || e.defaultPrevented) return;
    e.preventDefault();
    if (f.getAttribute('aria-busy') === 'true') return;
    f.setAttribute('aria-busy', 'true');
    const body = new URLSearchParams(new FormData(f, e.submitter));
    const sent = [...f.elements].map(x => x.id || x.name);
    try {
      await swap(f, target, f.action, {method: 'POST', body, sent}, f.dataset.focus);
    } catch {
      f.removeAttribute('data-swap'); // the plain way shows the browser's own message
      f.requestSubmit ? f.requestSubmit() : f.submit();
    } finally {
      f.removeAttribute('aria-busy');
    }
  });

  addEventListener('click', async e => {
    const a = e.target.closest && e.target.closest('a[data-swap]');
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey || e.button) return;
    e.preventDefault();
    try {
      await swap(a, a.dataset.swap, a.href, {}, a.dataset.swap);
      history.replaceState(null, '', a.href);
    } catch { location.assign(a.href); }
  });

  // Signs that a phone's keyboard hides.
  const keysFor = unit => {
    const base = unit.replace(/^[pnµmkM](?=[A-ZΩ])/, '');
    return ['m', 'k', 'µ', ...new Set([base, 'Ω', '°C'])].filter(k => k && k !== '%' || k === unit);
  };
  const insert = (box, sign) => {
    box.focus();
    box.setRangeText(sign, box.selectionStart, box.selectionEnd, 'end');
    box.dispatchEvent(new Event('input', {bubbles: true}));
  };

  const reads = box => {
    const out = one('#' + CSS.escape(box.getAttribute('aria-describedby').split(' ').find(id => id.startsWith('reads-'))));
    let timer, asked = 0;
    const look = async () => {
      const text = box.value.trim(), mine = ++asked;
      if (!text) { out.textContent = ''; return; }
      try {
        const q = new URLSearchParams({unit: box.dataset.unit, text});
        const r = await fetch('/read?' + q);
        if (mine !== asked || !r.ok) return;
        const got = await r.json();
        out.classList.toggle('not', !got.read);
        const label = box.dataset.label ? box.dataset.label + ': ' : 'read as ';
        out.textContent = got.read ? label + got.read + (got.notes ? ' (' + got.notes.join('; ') + ')' : '') : got.say || '';
      } catch { out.textContent = ''; }
    };
    box.addEventListener('input', () => { clearTimeout(timer); timer = setTimeout(look, 250); });
    if (box.value && !box.hasAttribute('aria-invalid')) look();
  };

  // What is too wide for the page scrolls by itself; the keyboard has to get there.
  const scrollers = root => root.querySelectorAll('.formula,math[display=block],.prose>table,.situation>table,.ask-text>table,.because>table,pre,.sheet').forEach(e => {
    if (e.scrollWidth > e.clientWidth + 1) e.tabIndex = 0;
    else if (e.tabIndex === 0) e.removeAttribute('tabindex');
  });
  let settled;
  new ResizeObserver(() => { clearTimeout(settled); settled = setTimeout(() => scrollers(document), 50); }).observe(document.body);
  document.fonts.ready.then(() => scrollers(document));

  const prepare = root => (scrollers(root), root.querySelectorAll('input[data-unit]').forEach(box => {
    if (box.closest('.answer')) reads(box);
    const keys = document.createElement('div');
    keys.className = 'keys';
    keys.setAttribute('role', 'group');
    keys.setAttribute('aria-label', 'Signs');
    for (const sign of keysFor(box.dataset.unit)) {
      const b = document.createElement('button');
      b.type = 'button';
      b.textContent = sign;
      b.addEventListener('click', () => insert(box, sign));
      keys.append(b);
    }
    box.parentElement.after(keys);
  }));
  prepare(document);
})();
