/* The practice page of one family: its sets one after the other, and one quiet line on what this device keeps. Nothing is
   sent anywhere. */
(function () {
  "use strict";

  function start(place) {
    const widgets = Waterleaf.widgets, make = widgets.make, memory = Waterleaf.memory;
    const key = place.getAttribute("data-family"), sets = Waterleaf.catalogue.sets;
    const kept = Waterleaf.progress.record(memory.state(), key);
    const body = make("div"), count = make("span", { role: "status" }), line = make("p", { "class": "wl-kept" });
    let system = memory.state().units || place.getAttribute("data-units");
    let set = kept ? kept.next % sets : 0;
    let sitting = null;
    let wanted = 0;

    function tell(state) {
      const record = Waterleaf.progress.record(state, key);
      const told = record && record.checks
        ? "On this device: " + widgets.number(record.asked, "question", "questions") + " answered, " + record.first
          + " right first time. " + (record.due_day ? "This exercise comes back in a round: " + widgets.back(state, record, memory.today()) + ". " : "")
        : "This device counts your answers for you. Nothing is sent anywhere. ";
      line.replaceChildren(told + (widgets.lastingLine() && widgets.lastingLine() + " "));
      line.append(make("a", { href: "../practice/record.html", text: "Your practice" }));
    }

    function show(focus) {
      wanted += 1;
      const mine = wanted;
      Waterleaf.sets.need(key, system, set, function (data, drawn) {
        if (mine !== wanted) { return; }
        const story = Waterleaf.exercise.show(body, data, drawn, sitting, "../");
        count.textContent = "Set " + (set + 1) + " of " + sets;
        if (focus) { story.focus(); }
      }, function () {
        body.replaceChildren(make("p", { text: "The file with the numbers of this page is missing. Copy the whole folder of the course." }));
      });
    }

    function begin(focus) {
      sitting = Waterleaf.exercise.sitting(key, set, tell);
      show(focus);
    }

    place.replaceChildren(
      widgets.row([
        widgets.units(system, function (value) { system = value; show(false); }),
        widgets.button("Other numbers", function () { sitting.pass(); set = (set + 1) % sets; begin(true); }), count
      ]),
      body, line
    );
    tell(memory.state());
    begin(false);
  }

  document.addEventListener("DOMContentLoaded", function () {
    document.querySelectorAll(".wl-practice[data-family]").forEach(start);
  });
}());
