/* What every page gets for those who use a keyboard or a screen reader. */
(function () {
  "use strict";

  const BOXES = ".wl-formula, .wl-wide, .wl-crew-table, .md-typeset__scrollwrap";

  /* Boxes that scroll sideways can be reached and scrolled by keyboard; those that do not are left out of the tab order. */
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

  /* The theme's arrow beside a topic opens its pages, and says nothing of that to whoever cannot see it. */
  function nameArrows() {
    document.querySelectorAll('label.md-nav__link[tabindex="0"]').forEach(function (arrow) {
      const link = arrow.parentNode.querySelector("a");
      const box = document.getElementById(arrow.htmlFor);
      if (arrow.textContent.trim() || !link || !box) { return; }
      function tell() { arrow.setAttribute("aria-expanded", String(box.checked)); }
      arrow.setAttribute("role", "button");
      arrow.setAttribute("aria-label", "Pages of " + link.textContent.trim());
      arrow.addEventListener("keydown", function (event) {
        if (event.key === " ") { event.preventDefault(); arrow.click(); }
      });
      box.addEventListener("change", tell);
      tell();
    });
  }

  /* Its icons stand beside words that say the same, and some of its lists lean on a label that is empty. */
  function tidyTheme() {
    document.querySelectorAll("svg:not([role])").forEach(function (icon) { icon.setAttribute("aria-hidden", "true"); });
    document.querySelectorAll("nav[aria-labelledby]").forEach(function (list) {
      const title = list.querySelector(".md-nav__title");
      const label = document.getElementById(list.getAttribute("aria-labelledby"));
      if (title && !(label && (label.textContent.trim() || label.hasAttribute("aria-label")))) {
        list.removeAttribute("aria-labelledby");
        list.setAttribute("aria-label", title.textContent.trim());
      }
    });
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.reachable = reachable;
  window.addEventListener("load", reachable);
  window.addEventListener("load", nameArrows);
  window.addEventListener("load", tidyTheme);
  window.addEventListener("resize", reachable);
}());
