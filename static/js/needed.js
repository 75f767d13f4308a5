// By the gap a boot's girth is needed where the gap was read highest and where it is widest.

/** The boot's fields that may stay empty, from the gaps typed so far. */
export function spare(cells) {
  const gaps = cells.filter((cell) => cell.what === 'gap' && cell.repeat === 1);
  const sides = gaps.length ? ['left', 'right'] : [];
  const needed = sides.flatMap((side) => heights(gaps.filter((cell) => cell.side === side))
    .map((height) => `${side} ${height}`));
  const may = ({ what, side, height, repeat }) => (
    gaps.length && what === 'boot' && repeat === 1 && !needed.includes(`${side} ${height}`));
  return new Set(cells.filter(may).map((cell) => cell.input));
}

/** Where a boot must be read, in mm. gaps: of its side, those without a reading too. */
function heights(gaps) {
  const read = gaps.filter((cell) => cell.mm !== null);
  const highest = Math.max(...(read.length ? read : gaps).map((cell) => cell.height));
  const most = Math.max(...read.map((cell) => cell.mm));
  const widest = Math.max(...read.filter((cell) => cell.mm === most).map((cell) => cell.height));
  return read.length ? [highest, widest] : [highest];
}
