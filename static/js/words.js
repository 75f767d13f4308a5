// The sentences of the scripts: English here; the page brings those of another language along, from
// the same catalogue as its own. Hours as the shop writes them, days and decimals as the language.

const { dataset, lang } = document.documentElement;
const known = JSON.parse(dataset.words || '{}');

/** A sentence in the page's language, with its {values} put in. */
export const _ = (sentence, values = {}) => filled(known[sentence] ?? sentence, values);

/** A sentence with its {values} put in; the stop of "6:00 p. m." is the sentence's too. */
export const filled = (sentence, values) => (
  sentence.replace(/{(\w+)}/g, (hole, name) => values[name] ?? hole).replace('m..', 'm.'));

const clock = { hour: 'numeric', minute: '2-digit' };
if (dataset.hours) clock.hour12 = dataset.hours === '12';

/** The hour on this phone's clock: 6:00 PM or 18:00. */
export const hour = (at) => new Date(at).toLocaleTimeString(lang, clock);

/** The hour with its day of the week: Tue 6:00 PM. */
export const dayAndHour = (at) => (
  new Date(at).toLocaleString(lang, { weekday: 'short', ...clock }));

/** Things in a row, as the language lists them. */
export const listed = (things) => new Intl.ListFormat(lang).format(things);

/** A figure with one decimal: 36.5 or 36,5. */
export const decimal = (value) => value.toLocaleString(
  lang,
  { minimumFractionDigits: 1, maximumFractionDigits: 1, useGrouping: false },
);
