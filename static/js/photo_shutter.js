// The shutter: stays open, one tap a photo, shrunk here before it is sent. Without a camera in the
// page the phone's own takes it.

import { hasCamera } from './code_reader.js';
import { keepPhoto } from './offline_photos.js';
import { _, listed } from './words.js';

const LONGEST_PX = 1600;
const make = (kind, more) => Object.assign(document.createElement(kind), more);

/** A picture no larger than the shop keeps it, as JPEG. */
async function shrunk(source, wide, high) {
  const scale = Math.min(1, LONGEST_PX / Math.max(wide, high));
  const [width, height] = [wide, high].map((side) => Math.round(side * scale));
  const canvas = make('canvas', { width, height });
  canvas.getContext('2d').drawImage(source, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((done) => { canvas.toBlob(done, 'image/jpeg', 0.85); });
  return blob.arrayBuffer();
}

class Shutter {
  constructor(box) {
    this.box = box;
    this.taken = 0;
    this.said = make('p', { className: 'note' });
    this.said.setAttribute('role', 'status');
    this.strip = make('div', { className: 'photos' });
    this.bar = make('progress', { max: 1, hidden: true, ariaLabel: _('Sending photos') });
    this.ways = make('div', { className: 'pair' });
    if (hasCamera) this.ways.append(this.button(_('Take photos'), () => this.open()));
    this.ways.append(this.picker());
    box.querySelector('form')?.remove();   // the plain way, for where there is no script
    box.append(this.ways, this.strip, this.bar, this.said);
    const alt = _('The first photo, to stand at the same place');
    this.ghost = make('img', { className: 'ghost', alt, hidden: true });
    box.addEventListener('change', () => this.showFirst());
    this.showFirst();
    document.addEventListener('photo', ({ detail }) => {
      if (detail.url === this.url) this.onTheWay(detail);
    });
  }

  get view() { return this.box.querySelector('[name=view]:checked'); }

  /** The first photo of this view: a ghost over the open camera, else beside the button. */
  showFirst() {
    const first = this.view?.dataset.first;
    this.ghost.hidden = !first;
    if (!first) return;
    if (this.ghost.getAttribute('src') !== first) this.ghost.src = first;
    const film = this.finder?.isConnected ? this.finder.querySelector('.film') : null;
    if (film) film.append(this.ghost);
    else this.ways.before(this.ghost);
  }

  get url() { return this.box.dataset.shutter; }

  button(text, act) {
    const button = make('button', { type: 'button', textContent: text });
    button.addEventListener('click', act);
    return button;
  }

  picker() {
    const textContent = hasCamera ? _('Pick photos') : _('Take a photo');
    const label = make('label', { className: 'press', textContent });
    const how = { type: 'file', accept: 'image/*', multiple: hasCamera, className: 'vh' };
    const file = make('input', how);
    if (!hasCamera) file.setAttribute('capture', 'environment');
    file.addEventListener('change', async () => {
      const lost = [];
      for (const one of file.files) {
        if (!(await this.take(() => createImageBitmap(one)))) lost.push(one.name);
      }
      if (lost.length) this.lost(lost);
      file.value = '';
    });
    label.append(file);
    return label;
  }

  async open() {
    const video = make('video', { muted: true, playsInline: true });
    try {
      const wanted = { facingMode: 'environment', width: { ideal: 1920 } };
      this.stream = await navigator.mediaDevices.getUserMedia({ video: wanted, audio: false });
    } catch {
      const shut = _('The camera did not open. Allow it for this page, or pick a photo.');
      this.said.textContent = shut;
      return;
    }
    video.srcObject = this.stream;
    await video.play();
    const shut = this.button(_('Close camera'), () => {
      for (const track of this.stream.getTracks()) track.stop();
      this.finder.remove();
      this.ways.hidden = false;
      this.showFirst();
    });
    this.finder = make('div', { className: 'finder' });
    const tap = this.button(_('Take photo'), () => this.take(async () => video));
    tap.className = 'next';
    const film = make('div', { className: 'film' });
    film.append(video);
    this.finder.append(film, tap, shut);
    this.ways.hidden = true;
    this.box.prepend(this.finder);
    this.showFirst();
  }

  async take(source) {
    try {
      const picture = await source();
      const wide = picture.videoWidth ?? picture.width;
      const high = picture.videoHeight ?? picture.height;
      const bytes = await shrunk(picture, wide, high);
      const [{ moment }, view] = [this.box.dataset, this.view?.value ?? ''];
      await keepPhoto({ url: this.url, moment, view, picture: bytes });
      this.taken += 1;
      const address = URL.createObjectURL(new Blob([bytes], { type: 'image/jpeg' }));
      const [alt, height] = [_('Photo {number}', { number: this.taken }), (96 * high) / wide];
      this.strip.append(make('img', { src: address, alt, width: 96, height: Math.round(height) }));
      const known = { count: this.taken };
      this.said.textContent = _('{count} taken, saved on this phone until sent.', known);
      return true;
    } catch {
      this.said.textContent = _(
        'This photo could not be saved on this phone. Take it again, or pick a smaller one.',
      );
      return false;
    }
  }

  /** Stands by itself, so that the news of those that were taken does not wipe it away. */
  lost(names) {
    this.box.querySelector('.error')?.remove();
    const known = { names: listed(names) };
    const textContent = _('Not saved: {names}. Take it again, or pick a smaller one.', known);
    const note = make('p', { className: 'error', textContent });
    note.setAttribute('role', 'alert');
    this.said.after(note);
  }

  onTheWay({ share, saved }) {
    this.bar.hidden = saved !== undefined;
    this.bar.value = share;
    if (saved) this.said.textContent = _('Sent.');
  }
}

for (const box of document.querySelectorAll('[data-shutter]')) new Shutter(box);
