/* Boxes that scroll sideways can be reached and scrolled by keyboard; those that do not are left out of the tab order. */
(function () {
  "use strict";

  function reachable() {
    document.querySelectorAll(".wl-formula, .md-typeset__scrollwrap").forEach(function (box) {
      if (box.scrollWidth > box.clientWidth) {
        box.setAttribute("tabindex", "0");
        box.setAttribute("role", "region");
        box.setAttribute("aria-label", "Scrolls sideways");
      }
    });
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.reachable = reachable;
  window.addEventListener("load", reachable);
  window.addEventListener("resize", reachable);
}());
