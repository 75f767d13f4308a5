// The scanner beside every field that takes a scan. It stays open from item to item; the page
// changes below it. Where there is no camera or no HTTPS a photo does it, and a typed number
// always.

import { allowSound, hasCamera, isLoud, readPhoto, ring, setLoud, watch } from './code_reader.js';
import { _ } from './words.js';

const OPEN = 'scanner-open';
const main = document.querySelector('main');
const part = (kind, more) => Object.assign(document.createElement(kind), more);
const sheet = part('section', { className: 'scanner', ariaLabel: _('Scanner'), hidden: true });
const video = Object.assign(document.createElement('video'), { muted: true, playsInline: true });
const said = Object.assign(document.createElement('p'), { className: 'note' });
let close = null;

const fieldOf = (form) => form.querySelector('[name=scan], [name=q], [data-tag]');
const form = () => main.querySelector(
  'form[data-scan], form[data-pickup], form[data-find], form[data-tags]',
);
said.setAttribute('role', 'status');
const loud = make('', () => { setLoud(!isLoud()); sayLoud(); ring(1); });
sayLoud();
sheet.append(video, said, loud, make(_('Close the scanner'), shut));

/**
 * One tone is a left boot, two a right one, a low one was not understood; without them the page
 * says it all the same.
 */
function sayLoud() {
  loud.textContent = isLoud() ? _('Sound is on') : _('Sound is off');
  loud.setAttribute('aria-pressed', String(isLoud()));
}

function make(text, act) {
  const button = part('button', { type: 'button', textContent: text, className: 'plain' });
  button.addEventListener('click', act);
  return button;
}

/** A way to scan at the field, once. */
function offer() {
  const here = form();
  const field = here && fieldOf(here);
  const place = field && (field.closest('.find-row') ?? field.closest('.field') ?? field);
  if (!place || place.nextElementSibling?.matches('.scan-ways')) return;
  const ways = Object.assign(document.createElement('div'), { className: 'scan-ways' });
  ways.append(hasCamera ? make(_('Scan'), open) : photoField());
  place.after(ways);
}

function photoField() {
  const label = part('label', { className: 'press', textContent: _('Take a photo of a tag') });
  const file = part('input', { type: 'file', accept: 'image/*', className: 'vh' });
  file.setAttribute('capture', 'environment');
  file.addEventListener('change', async () => {
    const text = file.files[0] ? await readPhoto(file.files[0]).catch(() => '') : '';
    file.value = '';
    label.firstChild.textContent = text
      ? _('Take a photo of a tag')
      : _('No code on that photo. Go closer, or type the number');
    if (text) heard(text);
  });
  label.append(file);
  return label;
}

async function open() {
  allowSound();
  sheet.hidden = false;
  main.before(sheet);
  said.textContent = _('Hold the tag in front of the camera.');
  try {
    close = await watch(video, heard);
    sessionStorage.setItem(OPEN, '1');
  } catch {
    said.textContent = _('The camera did not open. Allow it for this page, or type the number.');
    video.hidden = true;
  }
}

function shut() {
  close?.();
  close = null;
  sheet.hidden = true;
  sessionStorage.removeItem(OPEN);
}

/** A code was read: into the field, and sent as if it had been typed. */
async function heard(text) {
  const here = form();
  if (!here) return;
  const tag = /\/t\/([0-9a-z-]+)/i.exec(text);
  navigator.vibrate?.(40);
  if ('find' in here.dataset && tag) { location.assign(`/T/${tag[1]}`); return; }
  if ('tags' in here.dataset) { collect(here, tag ? tag[1] : text); return; }
  fieldOf(here).value = tag ? tag[1] : text;
  const button = here.querySelector('[name=strike]');
  if ('queue' in here.dataset || !close) here.requestSubmit(button ?? undefined);
  else await ask(here, button);
}

/**
 * Tags that are tied on go into the fields of their form one after another, and are sent with the
 * rest of it.
 */
function collect(here, code) {
  const fields = [...here.querySelectorAll('[data-tag]')];
  const free = fields.find((one) => !one.value);
  if (!free || fields.some((one) => one.value === code)) {
    said.textContent = free
      ? _('This tag is on the list already.')
      : _('Every tag is on the list.');
    ring(1, 220);
    return;
  }
  free.value = code;
  free.dispatchEvent(new Event('input', { bubbles: true }));
  const left = fields.filter((one) => !one.value).length;
  said.textContent = left
    ? _('{code} is on the list. {left} left.', { code, left })
    : _('{code} is on the list. That was the last one.', { code });
  ring(left ? 1 : 2);
  if (!left) shut();
}

/** Sends a form that only asks, and puts the answer in its place. */
async function ask(here, button) {
  const typed = new URLSearchParams(new FormData(here));
  if (button) typed.set(button.name, button.value);
  const address = here.getAttribute('action') || location.pathname;
  const posts = here.getAttribute('method') === 'post';
  if (posts) await change(address, { method: 'POST', body: typed });
  else await change(`${address}?${typed}`);
}

async function change(address, how = {}) {
  const asked = { headers: { Accept: 'text/html' }, ...how };
  const answer = await fetch(address, asked).catch(() => null);
  if (!answer) {
    said.textContent = _('No connection. Type the number at “Is it ready?”, or try again.');
    ring(1, 220);
    return;
  }
  const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
  if (!page.querySelector('main form[data-scan], main form[data-pickup]')) {
    location.assign(answer.url);
    return;
  }
  document.title = page.title;
  main.className = page.querySelector('main').className;
  main.replaceChildren(...page.querySelector('main').childNodes);
  if (!how.method) history.replaceState(null, '', answer.url);
  document.dispatchEvent(new Event('changed'));
  offer();
  echo();
}

/** What was heard, in tones and in the large words of the page. */
function echo() {
  const boot = main.querySelector('.heard');
  const words = boot?.textContent.trim() ?? '';
  const wrong = main.querySelector('[role=alert]');
  said.textContent = wrong?.textContent.trim() ?? words;
  if (wrong) ring(1, 220);
  else ring(boot?.dataset.side === 'right' ? 2 : 1);
}

document.addEventListener('go', (event) => {
  if (!close) return;
  event.preventDefault();
  change(event.detail);
});
offer();
if (form() && !('tags' in form().dataset) && hasCamera && sessionStorage.getItem(OPEN)) open();
