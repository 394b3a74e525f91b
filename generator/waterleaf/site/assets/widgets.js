/* Small makers of page elements, and the sentences about kept practice that several pages show. */
(function () {
  "use strict";

  let counter = 0;

  function make(tag, attributes, children) {
    const node = document.createElement(tag);
    Object.keys(attributes || {}).forEach(function (name) {
      if (name === "text") { node.textContent = attributes[name]; } else { node.setAttribute(name, attributes[name]); }
    });
    (children || []).forEach(function (child) { if (child) { node.appendChild(child); } });
    return node;
  }

  function nextId(word) { counter += 1; return "wl-" + word + "-" + counter; }

  function button(text, action, main) {
    const node = make("button", { type: "button", text: text, "class": main ? "wl-main" : "" });
    node.addEventListener("click", action);
    return node;
  }

  function row(children) { return make("div", { "class": "wl-row wl-controls" }, children); }

  /* A table with headings; a cell is a text or a node. The first cell of a row is its heading. */
  function table(name, headings, rows) {
    function cell(tag, attributes, content) {
      return typeof content === "string"
        ? make(tag, Object.assign({ text: content }, attributes)) : make(tag, attributes, [content]);
    }
    const head = make("tr", {}, headings.map(function (text) { return make("th", { scope: "col", text: text }); }));
    const body = rows.map(function (cells) {
      return make("tr", {}, cells.map(function (content, at) {
        return at === 0 ? cell("th", { scope: "row" }, content) : cell("td", {}, content);
      }));
    });
    return make("div", { "class": "wl-wide", tabindex: "0", role: "region", "aria-label": name }, [
      make("table", { "class": "wl-readings" }, [
        make("caption", { text: name }), make("thead", {}, [head]), make("tbody", {}, body)
      ])
    ]);
  }

  /* A choice of two systems of units, kept for all pages. */
  function units(chosen, changed) {
    const name = nextId("units");
    function choice(value, text) {
      const radio = make("input", { type: "radio", name: name, id: nextId("unit"), value: value });
      radio.checked = value === chosen;
      radio.addEventListener("change", function () {
        Waterleaf.memory.change(function (state) { state.units = value; });
        changed(value);
      });
      return make("span", { "class": "wl-row" }, [radio, make("label", { "for": radio.id, text: text })]);
    }
    return make("fieldset", { "class": "wl-row" }, [
      make("legend", { text: "Units" }), choice("metric", "Metric"), choice("us", "US customary")
    ]);
  }

  function number(count, one, many) { return count + " " + (count === 1 ? one : many); }

  /* When an exercise comes back, in words. */
  function back(state, record, today) {
    const when = Waterleaf.progress.comesBack(state, record, today);
    if (when.now) { return "due now"; }
    const days = when.days === 1 ? "tomorrow" : "in " + when.days + " days";
    return when.others ? "after " + number(when.others, "other exercise", "other exercises") + ", or " + days : days;
  }

  /* Where nothing lasts, the reader must know before an hour of work. */
  function lastingLine() {
    return Waterleaf.memory.lasting() ? ""
      : "This browser does not let pages keep anything, so your practice is counted only until you leave this page.";
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.widgets = {
    make: make, nextId: nextId, button: button, row: row, table: table, units: units, number: number, back: back,
    lastingLine: lastingLine
  };
}());
