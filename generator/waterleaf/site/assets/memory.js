/* Where practice is kept: in this browser's own storage, or, where that is refused, only until the page is left.

   Waterleaf.memory.state()          what is kept now, always sound
   Waterleaf.memory.change(action)   read again, change, and write, so that two open pages do not undo each other
   Waterleaf.memory.put(state), clear(), today(), lasting() */
(function () {
  "use strict";

  const NAME = "waterleaf-practice";
  const ASIDE = "waterleaf-practice-set-aside";
  const DAY = 24 * 60 * 60 * 1000;
  let held = null;
  let lasting = true;

  /* Days since 1970 by the clock on the wall, so that a new day starts at midnight here. */
  function today() {
    const now = new Date();
    return Math.max(0, Math.floor((now.getTime() - now.getTimezoneOffset() * 60000) / DAY));
  }

  function state() {
    let text = null;
    try {
      text = window.localStorage.getItem(NAME);
    } catch (error) {
      lasting = false;
    }
    if (!lasting) { return held || Waterleaf.progress.blank(); }
    if (text === null) { return Waterleaf.progress.blank(); }
    const found = Waterleaf.progress.read(text, today());
    if (found === null) { setAside(text); }
    return found || Waterleaf.progress.blank();
  }

  /* What cannot be read may be another version's: it is kept out of the way, not thrown away. */
  function setAside(text) {
    try {
      window.localStorage.setItem(ASIDE, text);
      window.localStorage.removeItem(NAME);
    } catch (error) {
      lasting = false;
    }
  }

  function put(changed) {
    held = changed;
    try {
      window.localStorage.setItem(NAME, JSON.stringify(changed));
    } catch (error) {
      lasting = false;
    }
  }

  function change(action) {
    const changed = state();
    action(changed, today());
    put(changed);
    return changed;
  }

  function clear() {
    held = null;
    try {
      window.localStorage.removeItem(NAME);
      window.localStorage.removeItem(ASIDE);
    } catch (error) {
      lasting = false;
    }
  }

  /* Storage may be there and still take nothing; trying it is the only way to know. */
  try {
    window.localStorage.setItem(NAME + "-try", "1");
    window.localStorage.removeItem(NAME + "-try");
  } catch (error) {
    lasting = false;
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.memory = {
    state: state, change: change, put: put, clear: clear, today: today, lasting: function () { return lasting; }
  };
}());
