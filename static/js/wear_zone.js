// Where this phone's clock shows another hour than the calendar, it asks which one to use.

const form = document.querySelector('[data-elsewhere]');
const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
const now = new Date();
const hourIn = (timeZone) => now.toLocaleString('en-GB', { timeZone });

if (form && here && hourIn(here) !== hourIn(form.dataset.zone)) {
  form.elements.namedItem('zone').value = here;
  const place = here.split('/').pop().replaceAll('_', ' ');
  form.querySelector('p').textContent = form.dataset.elsewhere.replace('{place}', place);
  form.hidden = false;
}
