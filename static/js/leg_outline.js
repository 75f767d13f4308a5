// The outline behind the heights: solid and filled where it was read, dotted where it was not. It
// decorates; the figures are the sheet.

const NS = 'http://www.w3.org/2000/svg';
// The usual girth of a leg by height, for dotted lines and for where the keys begin: artwork, never
// a reading.
export const USUAL = [
  [80, 230], [165, 262], [230, 305], [300, 345], [350, 362], [420, 362], [700, 420],
];
const SHIN = [[0, 0], [165, 4], [230, 9], [300, 11], [370, 10], [470, 13], [700, 20]];

/** A straight line through a table of points. */
export function along(table, x) {
  const i = Math.min(Math.max(table.findIndex(([at]) => at > x), 1), table.length - 1);
  const [[x0, y0], [x1, y1]] = [table[i - 1], table[i]];
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
}

function smooth(points) {
  if (points.length < 2) return '';
  let path = `M${points[0].map((v) => v.toFixed(1)).join(' ')}`;
  for (let i = 0; i < points.length - 1; i += 1) {
    const [a, b, c] = [points[Math.max(i - 1, 0)], points[i], points[i + 1]];
    const d = points[Math.min(i + 2, points.length - 1)];
    const near = [b[0] + (c[0] - a[0]) / 6, b[1] + (c[1] - a[1]) / 6];
    const far = [c[0] - (d[0] - b[0]) / 6, c[1] - (d[1] - b[1]) / 6];
    path += `C${[...near, ...far, ...c].map((v) => v.toFixed(1)).join(' ')}`;
  }
  return path;
}

function line(svg, cls, d) {
  if (!d) return;
  const path = document.createElementNS(NS, 'path');
  path.setAttribute('class', cls);
  path.setAttribute('d', d);
  svg.append(path);
}

/** Draws the side that is being read, or the other side of a sheet, behind its heights. */
export function draw(form, cells, current) {
  for (const sheet of form.querySelectorAll('[data-sheet]')) {
    const { sheet: what } = sheet.dataset;
    const own = cells.filter((cell) => cell.what === what && cell.repeat === 1);
    if (what === 'leg' || what === 'boot') drawSheet(sheet, own, current);
  }
}

function drawSheet(sheet, cells, current) {
  const list = sheet.querySelector('.heights');
  const now = cells.find((cell) => cell.input.parentElement.contains(current));
  const side = now?.side ?? sheet.dataset.drawn ?? cells[0]?.side;
  sheet.dataset.drawn = side;
  const rows = cells.filter((cell) => cell.side === side && cell.height > 0)
    .sort((a, b) => b.height - a.height);
  let svg = list.querySelector('.mid');
  if (!svg) {
    svg = document.createElementNS(NS, 'svg');
    svg.setAttribute('class', 'mid');
    svg.setAttribute('aria-hidden', 'true');
    list.append(svg);
  }
  svg.replaceChildren();
  const box = svg.getBoundingClientRect();
  if (rows.length < 2 || !box.width) return;
  svg.setAttribute('viewBox', `0 0 ${box.width.toFixed(0)} ${box.height.toFixed(0)}`);
  const read = rows.filter((cell) => cell.mm !== null);
  const ratios = read.map((cell) => cell.mm / along(USUAL, cell.height));
  const size = read.length ? ratios.reduce((sum, ratio) => sum + ratio, 0) / read.length : 1;
  const girth = (cell) => cell.mm ?? along(USUAL, cell.height) * size;
  const widest = Math.max(...rows.map(girth)) / Math.PI;
  const scale = Math.min(box.width / 160, (box.width - 24) / widest);
  const points = rows.map((cell) => {
    const li = cell.input.closest('.height').getBoundingClientRect();
    const front = 10 * (box.width / 160) + (13 - along(SHIN, cell.height)) * scale * 0.35;
    const [y, back] = [li.top + li.height / 2 - box.top, front + (girth(cell) / Math.PI) * scale];
    return { y, front, back, read: cell.mm !== null, now: cell === now };
  });
  for (const { y, front, back } of points) {
    const [at, left, right] = [y, front - 3, back + 3].map((v) => v.toFixed(1));
    line(svg, 'd-station', `M0 ${at}H${left}M${right} ${at}H${box.width.toFixed(1)}`);
  }
  stretches(points).forEach((run) => {
    const front = smooth(run.points.map((p) => [p.front, p.y]));
    const backs = run.points.map((p) => [p.back, p.y]);
    const back = smooth(backs);
    if (run.read) line(svg, 'd-body', `${front}L${smooth(backs.reverse()).slice(1)}Z`);
    line(svg, run.read ? 'd-leg' : 'd-unread', front + back);
  });
  const here = points.find((point) => point.now);
  if (!here) return;
  const [left, top, y] = [here.back - 7, here.y - 7, here.y].map((v) => v.toFixed(1));
  line(svg, 'd-doubt', `M${left} ${top}v14M${left} ${y}h7`);
}

/** Neighbouring points in stretches: solid where both ends were read, dotted otherwise. */
function stretches(points) {
  const runs = [];
  for (let i = 1; i < points.length; i += 1) {
    const read = points[i - 1].read && points[i].read;
    const last = runs.at(-1);
    if (last && last.read === read) last.points.push(points[i]);
    else runs.push({ read, points: [points[i - 1], points[i]] });
  }
  return runs;
}
