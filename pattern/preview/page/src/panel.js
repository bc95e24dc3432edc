// The panel beside the glass: views, the heats step by step, units, findings.
import { el, choice } from './dom.js';
import { css } from './colours.js';
import { say } from './words.js';

export class Panel {
  constructor(root, app) {
    this.app = app;
    this.root = root;
    const m = app.model, job = m.result.job;
    root.append(
      el('header', {},
        el('h1', {}, job.text.join(' / ') || job.name || say('sign')),
        el('p', { class: 'facts' }, facts(m))),
      this.viewSection(), this.stepSection(), this.unitSection(), this.findingSection(), this.helpSection());
  }

  viewSection() {
    const a = this.app;
    this.views = choice(say('view'), named({ front: 'F', bench: 'B', side: 'S', ...(a.flat ? {} : { three: 'T' }) }), a.view, (v) => a.setView(v));
    this.modes = choice(say('glass'), named({ lit: 'L', routing: 'R', depth: 'D' }), a.mode, (v) => a.setMode(v));
    this.walls = choice(say('wall'), named({ dark: 'W', brick: 'W', light: 'W', none: 'W' }), a.wall, (v) => a.setWall(v));
    this.legend = el('div', { class: 'legend' });
    return el('section', { 'aria-labelledby': 'h-view' }, el('h2', { id: 'h-view' }, say('view')),
      row(say('from'), this.views), row(say('glass'), this.modes), row(say('wall'), this.walls), this.legend);
  }

  stepSection() {
    const a = this.app;
    this.stepUnit = el('select', { id: 'step-unit', onchange: (e) => a.startSteps(Number(e.target.value)) },
      el('option', { value: '-1' }, say('whole')),
      ...a.model.units.map((u) => el('option', { value: String(u.index) }, say('unit-heats', u.id, u.data.bends.length))));
    this.slider = el('input', { type: 'range', id: 'step', min: '0', max: '1', step: '0.02', value: '0', 'aria-label': say('made'), disabled: true });
    this.slider.addEventListener('input', () => a.setStep(Number(this.slider.value)));
    this.slider.addEventListener('change', () => a.setStep(Number(this.slider.value)));
    this.slider.addEventListener('keydown', (e) => {
      const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[e.key];
      if (by) { e.preventDefault(); e.stopPropagation(); a.stepBy(by); }
      if (e.key === 'Home' || e.key === 'End') { e.preventDefault(); e.stopPropagation(); a.setStep(e.key === 'Home' ? 0 : a.steps()); }
    });
    const button = (text, label, act) => el('button', { type: 'button', 'aria-label': label, title: label, onclick: act }, text);
    this.play = button(say('play'), say('play-heats'), () => a.play());
    this.controls = el('div', { class: 'steps', hidden: true },
      el('div', { class: 'transport' }, button(say('back'), say('one-back'), () => a.stepBy(-1)), this.play, button(say('on'), say('one-on'), () => a.stepBy(1))),
      this.slider);
    this.told = el('div', { class: 'told', 'aria-live': 'polite' });
    return el('section', { class: 'heats', 'aria-labelledby': 'h-steps' }, el('h2', { id: 'h-steps' }, say('heats')),
      row(say('unit'), this.stepUnit, 'step-unit'), this.controls, this.told);
  }

  unitSection() {
    const a = this.app;
    const list = el('ul', { class: 'list' }, ...a.model.units.map((u) => el('li', {},
      el('button', { type: 'button', class: 'unit', onclick: () => a.seeUnit(u) },
        swatch(u.tone), el('b', {}, u.id),
        el('span', {}, say('unit-line', letters(a.model, u), Math.round(u.tube.length), Math.round(u.data.lit_length), u.data.bends.length))))));
    this.along = el('input', { type: 'range', min: '0', max: '1000', value: '0', 'aria-label': say('along-unit'), disabled: true });
    this.along.addEventListener('input', () => a.probe(Number(this.along.value) / 1000));
    return el('section', { 'aria-labelledby': 'h-units' }, el('h2', { id: 'h-units' }, say('units', a.model.units.length)), list,
      el('label', { class: 'row' }, el('span', {}, say('along')), this.along));
  }

  findingSection() {
    const a = this.app, fs = a.model.findings;
    const item = (f, i) => el('li', {}, el('button', { type: 'button', class: `finding ${f.severity}`, onclick: () => a.seeFinding(i) },
      el('b', {}, say(f.severity)), el('span', {}, f.message), f.remedy ? el('i', {}, f.remedy) : null));
    const list = el('ul', { class: 'list' }, ...fs.slice(0, FIRST).map(item));
    const more = fs.length > FIRST ? el('button', { type: 'button', class: 'more', onclick: () => {
      list.append(...fs.slice(FIRST).map((f, i) => item(f, FIRST + i)));
      more.remove();
    } }, say('show-all', fs.length)) : null;
    return el('section', { 'aria-labelledby': 'h-findings' }, el('h2', { id: 'h-findings' }, say('findings', fs.length)),
      fs.length ? list : el('p', {}, say('no-findings')), more);
  }

  helpSection() {
    const keys = [['F B S T', 'k-views'], ['L R D', 'k-modes'], ['W', 'k-wall'], [say('key-arrows'), 'k-arrows'], ['+ −', 'k-zoom'], ['[ ]', 'k-step'],
      ['Home End', 'k-ends'], [say('key-space'), 'k-play'], ['N P', 'k-findings'], ['U', 'k-unit'], [', .', 'k-along'], ['Esc', 'k-whole']];
    const theme = el('button', { type: 'button', onclick: () => this.app.toggleTheme() }, say('theme'));
    return el('section', {}, el('details', {}, el('summary', {}, say('keys')),
      el('dl', {}, ...keys.flatMap(([k, v]) => [el('dt', {}, k), el('dd', {}, say(v))])),
      el('p', {}, say('help')),
      theme));
  }

  showLegend(app) {
    this.legend.replaceChildren();
    const m = app.model, key = (tone, text, cls = '') => el('span', { class: 'key' }, swatch(tone, cls), text);
    if (app.stepping) this.legend.append(key(m.partTone('still'), say('stays')), key(m.partTone('hot'), say('hot')), key(m.partTone('moving'), say('swings')));
    else if (app.mode === 'depth') this.legend.append(el('span', { class: 'key' }, say('face-0')), el('span', { class: 'ramp' }), el('span', { class: 'key' }, say('behind', Math.round(-m.deepest))));
    else if (app.mode === 'routing') this.legend.append(el('span', { class: 'key' }, say('one-tone')), key([0.6, 0.6, 0.6], say('striped'), 'striped'));
    else {
      const seen = new Map();
      for (const u of m.units) for (const l of u.look.lights) seen.set(l.colour, l);
      for (const l of seen.values()) this.legend.append(el('span', { class: 'key' }, swatch(l.screen), l.colour));
    }
  }

  showStep(app, told) {
    this.root.classList.toggle('stepping', Boolean(app.stepping));
    this.stepUnit.value = String(app.stepping ? app.stepping.index : -1);
    this.controls.hidden = this.slider.disabled = !app.stepping;
    this.told.replaceChildren();
    if (!app.stepping) return;
    this.slider.max = String(app.steps());
    this.slider.value = String(app.v);
    this.slider.setAttribute('aria-valuetext', told[0]);
    this.told.append(el('p', { class: 'now' }, told[0]), ...told.slice(1).map((t) => el('p', {}, t)));
  }
}

const FIRST = 60;

// named lists choices by their keys, each with its key on the keyboard.
const named = (keys) => Object.entries(keys).map(([value, key]) => [value, say(value), key]);

const row = (label, control, id) => el('div', { class: 'row' }, id ? el('label', { for: id }, label) : el('span', {}, label), control);

function swatch(tone, cls = '') {
  const s = el('span', { class: `swatch ${cls}`, 'aria-hidden': 'true' });
  s.style.backgroundColor = css(tone);
  return s;
}

function letters(m, u) {
  const seen = new Set(), out = [];
  for (const seg of u.data.path) {
    const s = seg.stroke && m.strokes.get(seg.stroke);
    if (s && !seen.has(s.letter)) { seen.add(s.letter); out.push(s.text); }
  }
  return out.join(' ');
}

function facts(m) {
  const j = m.result.job;
  return [j.font, say('high', j.height), say('tube', m.diameter), say('n-units', m.units.length)].filter(Boolean).join(', ');
}
