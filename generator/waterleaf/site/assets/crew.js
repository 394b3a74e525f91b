/* The crew's game: shows situations one after another and the outcomes that were worked out beforehand. It computes
   nothing but the sum of the points, and every text comes from the data. */
(function () {
  "use strict";
  var place = document.getElementById("wl-crew");
  var data = window.Waterleaf && window.Waterleaf.crew;
  if (!place || !data) { return; }
  var words = data.words;
  var taken = [];

  function part(name, text, into) {
    var made = document.createElement(name);
    if (text !== undefined && text !== "") { made.textContent = text; }
    if (into) { into.appendChild(made); }
    return made;
  }

  function table(heads, rows, into) {
    var box = part("div", "", into);
    box.className = "wl-crew-table";
    box.tabIndex = 0;
    box.setAttribute("role", "region");
    box.setAttribute("aria-label", heads.join(", "));
    var made = part("table", "", box);
    made.className = "wl-crew-cells"; // the theme wraps tables without a class once more
    var head = part("tr", "", part("thead", "", made));
    heads.forEach(function (text) { part("th", text, head).scope = "col"; });
    var body = part("tbody", "", made);
    rows.forEach(function (cells) {
      var row = part("tr", "", body);
      cells.forEach(function (text) { part("td", String(text), row); });
    });
    if (window.Waterleaf.reachable) { window.Waterleaf.reachable(); }
  }

  function total() {
    return taken.reduce(function (sum, one) { return sum + one.points; }, 0);
  }

  function button(text, into, act) {
    var made = part("button", text, into);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  function heading(text, into) {
    var made = part("h2", text, into);
    made.tabIndex = -1;
    return made;
  }

  function show(number) {
    var one = data.decisions[number];
    var box = part("section", "", place);
    box.className = "wl-crew-decision";
    var head = heading(number + 1 + ". " + one.title + ": " + words.day + " " + one.day, box);
    var care = part("p", "", box);
    care.className = "wl-crew-care";
    part("strong", words.caution + " ", care);
    care.appendChild(document.createTextNode(one.caution));
    part("p", one.story, box);
    part("p", words.evening, box);
    table(one.readings.map(function (r) { return r[0]; }), [one.readings.map(function (r) { return r[1]; })], box);
    var form = part("form", "", box);
    var group = part("fieldset", "", form);
    part("legend", words.question, group);
    one.choices.forEach(function (choice) {
      var line = part("label", "", group);
      var mark = part("input", "", line);
      mark.type = "radio";
      mark.name = "crew-" + number;
      mark.value = choice.letter;
      line.appendChild(document.createTextNode(" " + choice.letter + ": " + choice.text));
    });
    var decide = part("button", words.decide, form);
    decide.type = "submit";
    var said = part("div", "", box);
    said.className = "wl-crew-outcome";
    said.setAttribute("role", "status");
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var chosen = form.querySelector("input:checked");
      if (!chosen) { said.textContent = words.choose; return; }
      settle(number, chosen.value, group, decide, said, box);
    });
    if (number > 0) { head.focus(); }
  }

  function settle(number, letter, group, decide, said, box) {
    var one = data.decisions[number];
    var before = number ? taken[number - 1].letter : "";
    var outcome = one.outcomes[before][letter];
    taken.push({ letter: letter, points: outcome.points, title: one.title });
    group.disabled = true;
    decide.remove();
    said.textContent = "";
    part("p", words.cost + " " + outcome.points, said).className = "wl-crew-points";
    var list = part("ul", "", said);
    outcome.lines.forEach(function (line) { part("li", line, list); });
    part("p", words.total + " " + total(), said);
    var last = number === data.decisions.length - 1;
    var next = button(last ? words.end : words.next, box, function () {
      next.remove();
      if (last) { finish(); } else { show(number + 1); }
    });
    next.focus();
  }

  function finish() {
    var box = part("section", "", place);
    box.className = "wl-crew-decision";
    var head = heading(words.over, box);
    var rows = taken.map(function (one) { return [one.title, one.letter, one.points]; });
    rows.push([words.all, "", total()]);
    table([words.situation, words.choice, words.points], rows, box);
    button(words.again, box, begin);
    head.focus();
  }

  function begin() {
    taken = [];
    place.textContent = "";
    show(0);
  }

  begin();
})();
