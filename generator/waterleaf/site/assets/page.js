/* Boxes that scroll sideways can be reached and scrolled by keyboard; those that do not are left out of the tab order. */
(function () {
  "use strict";

  const BOXES = ".wl-formula, .wl-wide, .wl-crew-table, .md-typeset__scrollwrap";

  function reachable() {
    document.querySelectorAll(BOXES).forEach(function (box) {
      const name = box.getAttribute("aria-label") || box.getAttribute("data-name") || "Scrolls sideways";
      if (box.scrollWidth > box.clientWidth) {
        box.setAttribute("tabindex", "0");
        box.setAttribute("role", "region");
        box.setAttribute("aria-label", name);
      } else {
        if (box.hasAttribute("aria-label")) { box.setAttribute("data-name", name); }
        ["tabindex", "role", "aria-label"].forEach(function (attribute) { box.removeAttribute(attribute); });
      }
    });
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.reachable = reachable;
  window.addEventListener("load", reachable);
  window.addEventListener("resize", reachable);
}());
