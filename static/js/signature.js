// A signature by finger: drawn on a canvas, sent as a small picture with the form. Without script
// the typed name stands alone.

const INK = '#1b1813';
const MOST = 55000;   // characters; a form is small

class Pad {
  constructor(canvas) {
    this.canvas = canvas;
    this.field = canvas.closest('form').elements.signature;
    this.clear = canvas.closest('[data-sign]').querySelector('[data-clear]');
    this.last = null;
    this.size();
    canvas.addEventListener('pointerdown', (event) => this.down(event));
    canvas.addEventListener('pointermove', (event) => this.move(event));
    for (const name of ['pointerup', 'pointercancel']) {
      canvas.addEventListener(name, () => this.up());
    }
    this.clear.addEventListener('click', () => this.empty());
    if (this.field.value) this.show(this.field.value);
  }

  size() {
    this.canvas.width = this.canvas.clientWidth;
    this.canvas.height = this.canvas.clientHeight;
    this.pen = this.canvas.getContext('2d');
    const round = { lineCap: 'round', lineJoin: 'round' };
    Object.assign(this.pen, { lineWidth: 2.2, ...round, strokeStyle: INK });
  }

  at(event) {
    const box = this.canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  down(event) {
    this.canvas.setPointerCapture(event.pointerId);
    this.last = this.at(event);
    this.line(this.last);   // a dot is a mark too
  }

  move(event) {
    if (this.last) this.line(this.at(event));
  }

  line(to) {
    this.pen.beginPath();
    this.pen.moveTo(...this.last);
    this.pen.lineTo(...to);
    this.pen.stroke();
    this.last = to;
  }

  up() {
    if (!this.last) return;
    this.last = null;
    const picture = this.canvas.toDataURL('image/png');
    this.field.value = picture.length <= MOST ? picture : '';
  }

  empty() {
    this.pen.clearRect(0, 0, this.canvas.width, this.canvas.height);
    this.field.value = '';
  }

  show(picture) {
    const image = new Image();
    image.addEventListener('load', () => this.pen.drawImage(image, 0, 0));
    image.src = picture;
  }
}

for (const box of document.querySelectorAll('[data-sign]')) {
  box.hidden = false;
  new Pad(box.querySelector('canvas'));
}
