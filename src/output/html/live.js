
// A preview draws itself anew when the recipe is saved, and keeps the place where one reads.
(function () {
  var root = document.documentElement;
  if (!root.hasAttribute('data-version') || !window.EventSource) { return; }
  var isBusy = false, wanted = 0;

  function state(words, isLost) {
    var place = document.getElementById('state');
    if (place) { place.textContent = words; place.classList.toggle('lost', isLost); }
  }
  function swap(selector, fresh) {
    var old = document.querySelector(selector), now = fresh.querySelector(selector);
    if (old && now) { old.replaceWith(document.adoptNode(now)); }
  }
  function draw() {
    if (isBusy) { return; }
    isBusy = true;
    fetch('/', { cache: 'no-store' }).then(function (answer) { return answer.text(); }).then(function (text) {
      var fresh = new DOMParser().parseFromString(text, 'text/html');
      var policy = 'meta[http-equiv="Content-Security-Policy"]';
      // Another edition of the program: its page needs its own script.
      if (fresh.querySelector(policy).content !== document.querySelector(policy).content) { location.reload(); return; }
      var panel = document.getElementById('recipe'), at = panel ? panel.scrollTop : 0;
      swap('#recipe', fresh);
      document.getElementById('recipe').scrollTop = at;
      swap('#banner', fresh);
      var drawn = function (page) { return page.querySelector('#sheet').getAttribute('data-drawn'); };
      if (drawn(fresh) !== drawn(document)) {
        document.title = fresh.title;
        swap('.top nav', fresh);
        swap('#sheet', fresh);
        ringwright.start();
      }
      root.setAttribute('data-version', fresh.documentElement.getAttribute('data-version'));
    }).catch(function () { state('the preview does not answer', true); }).then(function () {
      isBusy = false;
      if (Number(root.getAttribute('data-version')) < wanted) { wanted = 0; draw(); }
    });
  }
  var events = new EventSource('/events?since=' + encodeURIComponent(root.getAttribute('data-version')));
  events.addEventListener('drawn', function (event) {
    wanted = Number(event.data);
    // A preview that was begun again counts anew.
    if (String(wanted) !== root.getAttribute('data-version')) { draw(); }
  });
  events.onopen = function () { state('drawn anew at each save', false); };
  events.onerror = function () { state('the preview has ended', true); };
}());
