// My page: this phone asks for messages of the shop.

import { ask, canPush, end, held } from './push_subscription.js';

const box = document.querySelector('[data-push]');
const part = (name) => box.querySelector(`[data-part=${name}]`);

function show(name) {
  for (const one of box.children) one.hidden = one.dataset.part !== name;
}

async function asked() {
  try {
    show(await ask(box.dataset) ? 'on' : 'blocked');
  } catch {
    show('failed');
  }
}

if (box && canPush) {
  part('ask').querySelector('button').addEventListener('click', asked);
  part('on').addEventListener('submit', () => { end().catch(() => {}); });
  held().then((is) => show(is ? 'on' : 'ask'), () => {});
}
