// The customer's page: once a clock was started, this phone is offered to say when the boots come
// off; where it does already, the shop is told of each clock.

import { ask, canPush, end, held, post } from './push_subscription.js';

const box = document.querySelector('[data-push]');
const part = (name) => box.querySelector(`[data-part=${name}]`);
const TOLD = `clock ${location.pathname.slice(-6)}`;
let running = null;

function show(name) {
  for (const one of box.children) one.hidden = one.dataset.part !== name;
}

const isApple = /iPhone|iPad|iPod/.test(navigator.userAgent)
  || (navigator.userAgent.includes('Mac OS') && navigator.maxTouchPoints > 1);

async function offer() {
  if (!canPush) show(isApple ? 'home' : '');
  else if (Notification.permission === 'denied') show('blocked');
  else show(await held() ? 'on' : 'ask');
}

/** Tells the shop of the clock that runs, each once. */
async function tell() {
  if (!running || localStorage.getItem(TOLD) === String(running.at)) return;
  const { n, at } = running;
  const ago = Math.max(0, Math.round((Date.now() - at) / 1000));
  await post(box.dataset.clock, { n, clock: at, ago });
  localStorage.setItem(TOLD, String(at));
}

async function started(clock) {
  running = clock;
  if (await held()) await tell();
  await offer();
}

async function stopped() {
  running = null;
  if (!localStorage.getItem(TOLD)) return;
  localStorage.removeItem(TOLD);
  await post(box.dataset.clock, { clock: '' });
}

async function agreed() {
  const button = part('ask').querySelector('button');
  button.disabled = true;
  try {
    if (await ask(box.dataset)) await tell();
    await offer();
  } catch {
    show('failed');
  }
  button.disabled = false;
}

if (box) {
  document.addEventListener('clock', ({ detail }) => {
    (detail ? started(detail) : stopped()).catch(() => {});
  });
  addEventListener('online', () => { tell().catch(() => {}); });
  part('ask').querySelector('button').addEventListener('click', agreed);
  part('on').addEventListener('submit', () => { end().catch(() => {}); });
  held().then((is) => { if (is) show('on'); }, () => {});
}
