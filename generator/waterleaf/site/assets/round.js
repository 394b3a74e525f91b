/* The practice round: exercises from the topics that the student ticks, one after the other, missed ones again. What
   comes next is decided by Waterleaf.choose; this script shows it. */
(function () {
  "use strict";

  const WHY = {
    due: "You met this one before, and it is due again.", "new": "This one is new to you.",
    early: "Nothing is due today, so this one comes early."
  };

  function start(place) {
    const widgets = Waterleaf.widgets, make = widgets.make, memory = Waterleaf.memory, catalogue = Waterleaf.catalogue;
    const status = make("p", { role: "status", "class": "wl-status" });
    const body = make("div"), line = make("p", { "class": "wl-kept", text: widgets.lastingLine() });
    let system = memory.state().units || place.getAttribute("data-units");
    let round = null;

    // ---- The topics ----

    function boxesOf(state) {
      const ticked = state.topics.filter(name);
      return catalogue.topics.map(function (topic) {
        const box = make("input", { type: "checkbox", id: widgets.nextId("topic"), value: topic[0] });
        box.checked = ticked.length === 0 || ticked.indexOf(topic[0]) >= 0;
        return box;
      });
    }

    /* The name of a topic, or nothing where the course has no such topic. */
    function name(topic) {
      const found = catalogue.topics.find(function (pair) { return pair[0] === topic; });
      return found ? found[1] : "";
    }

    function dueIn(state, topic) {
      return catalogue.exercises.filter(function (one) {
        const record = Waterleaf.progress.record(state, one.key);
        return one.topic === topic && record && Waterleaf.progress.isDue(state, record, memory.today());
      }).length;
    }

    function chooseTopics(focus) {
      const state = memory.state(), boxes = boxesOf(state);
      const rows = boxes.map(function (box, at) {
        const due = dueIn(state, box.value);
        const text = catalogue.topics[at][1] + (due ? " (" + due + " due)" : "");
        return make("span", { "class": "wl-row" }, [box, make("label", { "for": box.id, text: text })]);
      });
      function tickAll(on) { boxes.forEach(function (box) { box.checked = on; }); }
      const heading = make("h2", { tabindex: "-1", text: "Choose your topics" });
      body.replaceChildren(
        heading,
        make("fieldset", { "class": "wl-topics" }, [make("legend", { text: "Topics" })].concat(rows)),
        widgets.row([
          widgets.button("Tick all", function () { tickAll(true); status.textContent = "All topics are ticked."; }),
          widgets.button("Tick none", function () { tickAll(false); status.textContent = "No topic is ticked."; })
        ]),
        widgets.row([widgets.button("Start the round", function () {
          const chosen = boxes.filter(function (box) { return box.checked; }).map(function (box) { return box.value; });
          if (!chosen.length) {
            status.textContent = "Tick at least one topic.";
            boxes[0].focus();
            return;
          }
          // A new round may start with what the round before ended with.
          memory.change(function (changed) { changed.topics = chosen; changed.last = ""; });
          begin(chosen);
        }, true)])
      );
      if (focus) { heading.focus(); }
    }

    // ---- The exercises ----

    function begin(topics) {
      round = {
        from: catalogue.exercises.filter(function (one) { return topics.indexOf(one.topic) >= 0; }),
        shown: 0, done: 0, clean: 0, missed: [], exercise: null, sitting: null
      };
      next();
    }

    function next() {
      close();
      const state = memory.state();
      const chosen = Waterleaf.choose(state, round.from, memory.today());
      const record = Waterleaf.progress.record(state, chosen.exercise.key);
      round.exercise = chosen.exercise;
      round.set = record ? record.next % catalogue.sets : 0;
      round.shown += 1;
      round.sitting = Waterleaf.exercise.sitting(chosen.exercise.key, round.set, function () { return null; });
      memory.change(function (changed) { changed.last = chosen.exercise.key; });
      show(chosen.why);
    }

    /* Count what has just been worked on; it is only known now whether the rest of the set went well. */
    function close() {
      if (!round.sitting) { return; }
      round.sitting.pass();
      if (round.sitting.isOver()) { round.done += 1; }
      if (round.sitting.isClean()) { round.clean += 1; }
      if (round.sitting.isOver() && !round.sitting.isClean() && round.missed.indexOf(round.exercise.title) < 0) {
        round.missed.push(round.exercise.title);
      }
      round.sitting = null;
    }

    function show(why) {
      const mine = round.shown, exercise = round.exercise, set = make("div", { "class": "wl-set" });
      const heading = make("h2", { tabindex: "-1", text: exercise.title });
      const lesson = make("a", { href: "../" + exercise.lesson, text: "Read the lesson" });
      body.replaceChildren(
        heading, make("p", {}, [make("span", { text: name(exercise.topic) + ". " + WHY[why] + " " }), lesson]),
        set,
        widgets.row([widgets.button("Next exercise", next, true), widgets.button("End the round", end)])
      );
      status.textContent = "Exercise " + mine + " of this round." + (round.done ? " So far: " + score() : "");
      heading.focus();
      fill(set, mine);
    }

    function score() {
      return widgets.number(round.done, "exercise", "exercises") + " done, " + round.clean + " right at once.";
    }

    function fill(set, mine) {
      const sitting = round.sitting;
      Waterleaf.sets.need(round.exercise.key, system, round.set, function (data, drawn) {
        if (!round || round.shown !== mine) { return; }
        const inside = make("div");
        set.replaceChildren.apply(set, [caution(data.caution), inside].filter(Boolean));
        Waterleaf.exercise.show(inside, data, drawn, sitting, "../");
      }, function () {
        set.replaceChildren(make("p", {
          text: "The file of this exercise is missing. Go on with the next one, and copy the whole folder of the course when you can."
        }));
      });
    }

    function caution(text) {
      return text ? make("div", { "class": "admonition warning" }, [
        make("p", { "class": "admonition-title", text: "Take care" }), make("p", { text: text })
      ]) : null;
    }

    function end() {
      close();
      const missed = round.missed.length ? " These come back soon: " + round.missed.join("; ") + "." : "";
      status.textContent = "The round is over: " + score() + missed;
      round = null;
      chooseTopics(true);
    }

    place.replaceChildren(
      widgets.row([widgets.units(system, function (value) {
        system = value;
        if (round) { fill(body.querySelector(".wl-set"), round.shown); }
      })]),
      status, body, line
    );
    chooseTopics(false);
  }

  document.addEventListener("DOMContentLoaded", function () {
    document.querySelectorAll("#wl-round").forEach(start);
  });
}());
