
'use strict';
// Ticks, dark and light. Storage may be denied: then both last as long as the page.
var ringwright = (function () {
  var root = document.documentElement;
  function kept(key) {
    try { return window.localStorage.getItem(key); } catch (denied) { return null; }
  }
  function keep(key, value) {
    try {
      if (value === null) { window.localStorage.removeItem(key); } else { window.localStorage.setItem(key, value); }
    } catch (denied) { /* it lasts as long as the page */ }
  }
  function sheet() { return document.getElementById('sheet'); }
  function boxes() { return Array.prototype.slice.call(document.querySelectorAll('input[data-tick]')); }
  function ticksKey() { return 'ringwright:ticks:' + (sheet().getAttribute('data-key') || ''); }

  function showDone(box) { box.closest('tr').classList.toggle('done', box.checked); }
  function keepTicks() {
    var ticked = boxes().filter(function (box) { return box.checked; });
    var names = ticked.map(function (box) { return box.getAttribute('data-tick'); });
    keep(ticksKey(), names.length ? JSON.stringify(names) : null);
  }
  function restoreTicks() {
    var names = [];
    try { names = JSON.parse(kept(ticksKey()) || '[]'); } catch (broken) { names = []; }
    if (!Array.isArray(names)) { names = []; }
    boxes().forEach(function (box) {
      box.checked = names.indexOf(box.getAttribute('data-tick')) >= 0;
      showDone(box);
    });
    document.getElementById('reset').hidden = boxes().length === 0;
  }
  document.addEventListener('change', function (event) {
    if (event.target.matches && event.target.matches('input[data-tick]')) {
      showDone(event.target);
      keepTicks();
    }
  });
  document.getElementById('reset').addEventListener('click', function () {
    var ticked = boxes().filter(function (box) { return box.checked; }).length;
    if (ticked === 0 || !window.confirm('Clear all ticks of this sheet (' + ticked + ')?')) { return; }
    boxes().forEach(function (box) { box.checked = false; showDone(box); });
    keepTicks();
  });

  var theme = document.getElementById('theme');
  function isDark() {
    var chosen = root.getAttribute('data-theme');
    if (chosen) { return chosen === 'dark'; }
    return !!window.matchMedia && window.matchMedia('(prefers-color-scheme: dark)').matches;
  }
  function showTheme(chosen) {
    if (chosen === 'dark' || chosen === 'light') { root.setAttribute('data-theme', chosen); }
    theme.textContent = isDark() ? 'Light' : 'Dark';
    document.dispatchEvent(new Event('ringwright:theme'));
  }
  theme.hidden = false;
  theme.addEventListener('click', function () {
    var chosen = isDark() ? 'light' : 'dark';
    showTheme(chosen);
    keep('ringwright:theme', chosen);
  });
  showTheme(kept('ringwright:theme'));

  // Whoever follows a link to a place inside the page arrives there with the keyboard too.
  var starts = [];
  function start() {
    restoreTicks();
    starts.forEach(function (one) { one(); });
  }
  document.addEventListener('DOMContentLoaded', start);
  return { onStart: function (one) { starts.push(one); }, start: start };
}());
