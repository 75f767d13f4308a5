"use strict";
/* A small addition to the saved page: it counts the minutes of today's wear by the clock, so that a
   phone that slept is still right. Everything it says stands on the page; without it nothing is
   missing. */
(() => {
  const timer = document.querySelector("[data-timer]");
  const now = new Date();
  const date = [now.getFullYear(), now.getMonth() + 1, now.getDate()];
  const today = date.map((n) => String(n).padStart(2, "0")).join("-");
  const rows = [...document.querySelectorAll("[data-day]")];
  const of_today = rows.find((one) => one.dataset.day === today);
  const named = (one) => "fitcounter-" + timer.dataset.seed + "-" + one.dataset.n;
  // a wear begun before midnight goes on after it, and whoever opens the page a little late must
  // still read that they come off
  const late = 6 * 3600000;
  const is_begun = (one) => stored(named(one)) > Date.now() - late;
  const begun = rows.find((one) => one.dataset.minutes && timer && is_begun(one));
  const row = begun || of_today;
  if (row) { row.classList.add("is-now"); row.setAttribute("aria-current", "date"); }
  if (!timer || !row || !row.dataset.minutes) return;

  const key = named(row);
  const count = timer.querySelector("[data-count]");
  const button = timer.querySelector("button");
  const says = timer.querySelector("[role=status]");
  const length = Number(row.dataset.minutes) * 60000;
  let end = Number(keep()) || 0;
  let ticking = 0;
  let rang = true;  // rings only where it was started: a page opened later has not been touched yet

  function stored(name) {
    try { return Number(localStorage.getItem(name)) || 0; } catch { return 0; }
  }
  function keep(value) {
    try {
      if (value !== undefined) localStorage.setItem(key, value);
      return localStorage.getItem(key);
    } catch { return value; }
  }
  function show(left) {
    const seconds = Math.max(0, Math.ceil(left / 1000));
    count.textContent = Math.floor(seconds / 60) + ":" + String(seconds % 60).padStart(2, "0");
  }
  function ring() {
    if (rang) return;
    rang = true;
    if (navigator.vibrate) navigator.vibrate([400, 200, 400]);
    try {
      const sound = new AudioContext();
      const tone = sound.createOscillator();
      tone.connect(sound.destination);
      tone.start();
      tone.stop(sound.currentTime + 1);
    } catch { /* the words and the figure say it too */ }
  }
  function look() {
    const left = end ? end - Date.now() : length;
    show(left);
    if (!end) return;
    button.hidden = true;
    const { lang, dataset } = document.documentElement;
    const clock = { hour: "numeric", minute: "2-digit" };
    if (dataset.hours) clock.hour12 = dataset.hours === "12";
    const at = new Date(end).toLocaleTimeString(lang, clock);
    const until = timer.dataset.until.replace("{time}", at).replace("m..", "m.");
    const words = left > 0 ? until : timer.dataset.off;
    if (says.textContent !== words) says.textContent = words;
    if (left <= 0) { clearInterval(ticking); ring(); }
  }
  function count_down() {
    clearInterval(ticking);
    ticking = setInterval(look, 500);
    if (navigator.wakeLock) navigator.wakeLock.request("screen").catch(() => {});
    look();
  }
  button.addEventListener("click", () => {
    rang = false;
    end = Date.now() + length;
    keep(String(end));
    count_down();
  });
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden && end) count_down();
  });
  timer.hidden = false;
  if (end && end - Date.now() > 0) count_down(); else look();
})();
