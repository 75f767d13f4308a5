// Reads square codes from the phone's camera or from a photo: the browser's own reader where it has
// one, else the one in static/vendor.

const WIDE_PX = 640;
const PAUSE_MS = 120;
const SAME_MS = 2500;

let known;

/** A function (picture) → text or '' for a video, an image or a bitmap. */
export function reader() {
  known ??= own().then((found) => found ?? vendored());
  return known;
}

async function own() {
  if (!('BarcodeDetector' in self)) return null;
  if (!(await BarcodeDetector.getSupportedFormats()).includes('qr_code')) return null;
  const detector = new BarcodeDetector({ formats: ['qr_code'] });
  return async (picture) => (await detector.detect(picture))[0]?.rawValue ?? '';
}

async function vendored() {
  const { decodeQR } = await import('../vendor/qr/decode.js');
  const canvas = document.createElement('canvas');
  const drawing = canvas.getContext('2d', { willReadFrequently: true });
  return async (picture) => {
    const wide = picture.videoWidth ?? picture.width;
    const high = picture.videoHeight ?? picture.height;
    if (!wide) return '';
    // a photo is taken once and may be looked at longer
    const most = picture.videoWidth ? WIDE_PX : 2 * WIDE_PX;
    const scale = Math.min(1, most / Math.max(wide, high));
    [canvas.width, canvas.height] = [Math.round(wide * scale), Math.round(high * scale)];
    drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
    try {
      return decodeQR(drawing.getImageData(0, 0, canvas.width, canvas.height));
    } catch {
      return '';
    }
  };
}

export const hasCamera = Boolean(navigator.mediaDevices?.getUserMedia);

/**
 * Opens the camera into a video and calls heard(text) for each code, one held in view only once.
 * Gives a function that closes it.
 */
export async function watch(video, heard) {
  const stream = await navigator.mediaDevices.getUserMedia({
    video: { facingMode: 'environment', width: { ideal: 1280 } },
    audio: false,
  });
  video.srcObject = stream;
  await video.play();
  const read = await reader();
  let [open, last, seen] = [true, '', 0];
  (async () => {
    while (open) {
      const text = document.visibilityState === 'visible' ? await read(video).catch(() => '') : '';
      if (text && (text !== last || performance.now() - seen > SAME_MS)) await heard(text);
      if (text) [last, seen] = [text, performance.now()];
      await new Promise((done) => { setTimeout(done, PAUSE_MS); });
    }
  })();
  return () => {
    open = false;
    for (const track of stream.getTracks()) track.stop();
  };
}

/** The code on a photo, or ''. */
export async function readPhoto(file) {
  const picture = await createImageBitmap(file);
  return (await reader())(picture);
}

const QUIET = 'bench-quiet';
let sound;

/** Whether the tones are on; it is remembered on this phone. */
export const isLoud = () => !localStorage.getItem(QUIET);

export function setLoud(on) {
  if (on) localStorage.removeItem(QUIET);
  else localStorage.setItem(QUIET, '1');
}

/** Sounds need one tap first; after it they stay. */
export function allowSound() {
  sound ??= 'AudioContext' in self ? new AudioContext() : undefined;
  sound?.resume();
}

/**
 * So many short tones: one for a left boot, two for a right one; low when it was not understood.
 */
export function ring(times, hertz = 880) {
  if (sound?.state !== 'running' || !isLoud()) return;
  for (let n = 0; n < times; n += 1) {
    const [tone, level] = [sound.createOscillator(), sound.createGain()];
    const at = sound.currentTime + n * 0.22;
    tone.frequency.value = hertz;
    level.gain.setValueAtTime(0.25, at);
    level.gain.exponentialRampToValueAtTime(0.001, at + 0.18);
    tone.connect(level).connect(sound.destination);
    tone.start(at);
    tone.stop(at + 0.2);
  }
}
