// Elements are made with their text as text: nothing of a job is ever read as HTML.
export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) {
    if (k.startsWith('on')) e.addEventListener(k.slice(2), v);
    else if (v === true) e.setAttribute(k, '');
    else if (v !== false && v != null) e.setAttribute(k, v);
  }
  e.append(...children.filter((c) => c != null));
  return e;
}

// choice is a row of buttons of which one is pressed.
export function choice(label, options, chosen, pick) {
  const row = el('div', { class: 'choice', role: 'group', 'aria-label': label });
  const buttons = options.map(([value, text, key]) => el('button', {
    type: 'button', 'aria-pressed': String(value === chosen), 'data-value': value, title: key ? `${text} (${key})` : text,
    onclick: () => pick(value),
  }, text));
  row.append(...buttons);
  row.set = (value) => buttons.forEach((b) => b.setAttribute('aria-pressed', String(b.dataset.value === value)));
  return row;
}
