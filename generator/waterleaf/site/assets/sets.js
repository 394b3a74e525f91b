/* Drawn sets, loaded when they are needed. Each file is a script that calls Waterleaf.take: reading a file in any other
   way is refused to pages that were opened from a folder.

   Waterleaf.sets.need(key, system, index, use, fail)   use(data, set), now or when the file is there */
(function () {
  "use strict";

  const here = document.currentScript.src.replace(/[^/]*$/, "") + "sets/";
  const held = {};
  const waiting = {};

  function name(key, system, from) { return key + "-" + system + "-" + (from / Waterleaf.catalogue.in_a_file + 1); }

  function take(data) { held[name(data.family, data.system, data.from)] = data; }

  function settle(id) {
    const calls = waiting[id] || [];
    delete waiting[id];
    calls.forEach(function (call) { call(); });
  }

  function need(key, system, index, use, fail) {
    const from = index - index % Waterleaf.catalogue.in_a_file;
    const id = name(key, system, from);
    function done() {
      const data = held[id];
      if (data && data.sets[index - from]) { use(data, data.sets[index - from]); } else { fail(); }
    }
    if (held[id]) { done(); return; }
    if (waiting[id]) { waiting[id].push(done); return; }
    waiting[id] = [done];
    const script = document.createElement("script");
    script.src = here + id + ".js";
    script.addEventListener("load", function () { settle(id); });
    script.addEventListener("error", function () { script.remove(); settle(id); });
    document.head.appendChild(script);
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.take = take;
  window.Waterleaf.sets = { need: need };
}());
