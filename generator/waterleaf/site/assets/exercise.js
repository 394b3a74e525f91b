/* Shows a drawn set: story, questions, verdict, hint and working. Every sentence about the exercise was made in Python;
   this script only fills numbers into patterns and moves the focus.

   Waterleaf.exercise.sitting(key, set, changed)   what is noted while one set is worked on, in either system of units
   Waterleaf.exercise.show(place, data, set, sitting, lessons)   returns the story, to be given the focus */
(function () {
  "use strict";

  const GAP = "\u0001";
  const NEAR = ["right_no_unit", "wrong_unit", "coarse", "unknown_unit", "unreadable"];
  // These cost nothing: the answer was not understood, or only lacks its unit.
  const FREE = ["right_no_unit", "unknown_unit", "unreadable"];
  const make = Waterleaf.widgets.make, nextId = Waterleaf.widgets.nextId, button = Waterleaf.widgets.button;

  function unpack(data, packed) {
    const pieces = data.patterns[packed[0]].split(GAP);
    let text = pieces[0];
    for (let i = 1; i < pieces.length; i += 1) { text += packed[i] + pieces[i]; }
    return text;
  }

  /* What the judge expects: what all sets share, and the numbers of this one. */
  function expectation(same, numbers) {
    const whole = Object.assign({ coarse: [], zero_ok: false }, same.expected, numbers);
    whole.slips = numbers.slips.map(function (band, index) { return [band[0], band[1], same.says[index]]; });
    return whole;
  }

  /* A set is missed with its first wrong answer or help; it is clean when each question was right without either. */
  function sitting(key, set, changed) {
    const marks = [];
    let over = false, missed = false;

    function mark(index) {
      marks[index] = marks[index] || { checked: false, aided: false, right: false };
      return marks[index];
    }

    function note(action) { changed(Waterleaf.memory.change(action)); }

    function end(clean) {
      if (over) { return; }
      over = true;
      missed = !clean;
      note(function (state, today) { Waterleaf.progress.ended(state, key, set, clean, today); });
    }

    return {
      checked: function (index, verdict, questions) {
        const one = mark(index);
        if (one.right || FREE.indexOf(verdict.kind) >= 0) { return; }
        const what = {
          verdict: verdict.kind, opening: !one.checked, unaided: !one.aided,
          turn: verdict.kind === "slip" ? verdict.message : ""
        };
        note(function (state, today) { Waterleaf.progress.tried(state, key, what, today); });
        one.checked = true;
        one.right = verdict.kind === "right";
        if (!one.right) { end(false); }
        for (let at = 0; at < questions; at += 1) { if (!mark(at).right) { return; } }
        end(true);
      },
      aided: function (index) {
        const one = mark(index);
        if (one.right || one.aided) { return; }
        one.aided = true;
        end(false);
      },
      isUntouched: function (index) { return !mark(index).checked && !mark(index).aided; },
      isOver: function () { return over; },
      isClean: function () { return over && !missed; },
      pass: function () {
        if (!over) { note(function (state, today) { Waterleaf.progress.passed(state, key, set, today); }); }
      }
    };
  }

  function readings(data) {
    if (!data) { return null; }
    const head = make("tr", {}, data.headings.map(function (h) { return make("th", { scope: "col", text: h }); }));
    const body = data.rows.map(function (row) {
      return make("tr", {}, row.map(function (cell) { return make("td", { text: cell }); }));
    });
    const inside = make("table", { "class": "wl-readings" }, [
      make("caption", { text: data.caption }), make("thead", {}, [head]), make("tbody", {}, body)
    ]);
    return make("div", { "class": "wl-wide", tabindex: "0", role: "region", "aria-label": data.caption }, [inside]);
  }

  function lessonLink(lessons, place) {
    const parts = place.split("#");
    return make("a", { href: lessons + parts[0] + "/index.html#" + parts[1], text: "Read about it in the lesson" });
  }

  /* The boxes of a choice: a button for each option, read as its letter. */
  function choices(data, part, asked) {
    const name = nextId("choice");
    let chosen = "";
    const rows = part.options.map(function (option) {
      const id = nextId("option");
      const radio = make("input", { type: "radio", name: name, id: id, value: option[0] });
      radio.addEventListener("change", function () { chosen = option[0]; });
      return make("div", { "class": "wl-row wl-option" }, [
        radio, make("label", { "for": id, text: option[0] + "  " + unpack(data, option[1]) })
      ]);
    });
    const group = make("div", { role: "radiogroup", "aria-labelledby": asked }, rows);
    return { value: function () { return chosen; }, row: group, mark: function () { return null; } };
  }

  /* The box of a typed answer, with its label and the unit to think of. */
  function typed(same, numbers, name, described, look) {
    const box = make("input", {
      type: "text", id: nextId("answer"), autocomplete: "off", autocapitalize: "off", spellcheck: "false", enterkeyhint: "done"
    });
    const unit = same.unit ? make("span", { id: nextId("unit"), text: "for example in " + same.unit }) : null;
    box.setAttribute("aria-describedby", (unit ? [unit.id] : []).concat(described).join(" "));
    box.addEventListener("keydown", function (event) { if (event.key === "Enter") { look(); } });
    return {
      name: name,
      value: function () { return box.value; },
      mark: function (right) { box.setAttribute("aria-invalid", right ? "false" : "true"); },
      expected: same.kind === "order" ? numbers : expectation(same, numbers),
      row: make("div", { "class": "wl-row" }, [make("label", { "for": box.id, text: name }), box, unit])
    };
  }

  function list(data, part) {
    return make("ul", { "class": "wl-items" }, part.options.map(function (option) {
      return make("li", { text: option[0] + "  " + unpack(data, option[1]) });
    }));
  }

  /* Hint and working of one question. Whoever asks for the working untried is offered the hint, and may still go on. */
  function help(data, same, part, index, sitting) {
    const place = make("div");
    const hintText = unpack(data, same.hint);
    let hinted = false;

    function put(node) {
      place.replaceChildren(node);
      if (Waterleaf.reachable) { Waterleaf.reachable(); }
      node.focus();
    }

    function hint() {
      sitting.aided(index);
      hinted = true;
      put(make("p", { "class": "wl-hint", tabindex: "-1", text: hintText }));
    }

    function working() {
      sitting.aided(index);
      const shown = make("div", { "class": "wl-working", tabindex: "-1" });
      shown.innerHTML = unpack(data, part.working);
      put(shown);
    }

    function offer() {
      const group = make("div", { "class": "wl-offer", tabindex: "-1", role: "group", "aria-labelledby": nextId("offer") });
      group.append(
        make("p", { id: group.getAttribute("aria-labelledby"), text: "You have not tried this one yet. A hint may be enough." }),
        Waterleaf.widgets.row([button("Show the hint first", hint, true), button("Go straight to the working", working)])
      );
      put(group);
    }

    return {
      place: place,
      hasHint: function () { return Boolean(hintText) && !hinted; },
      controls: [
        hintText ? button("Give me a hint", hint) : null,
        button("Show the working", function () {
          if (hintText && sitting.isUntouched(index)) { offer(); } else { working(); }
        })
      ]
    };
  }

  /* The judge's word on all boxes of a question, and the box: the first that is not right, or right. */
  function judged(boxes, letters) {
    let worst = null;
    boxes.forEach(function (entry) {
      const verdict = letters
        ? Waterleaf.judgeLetters(entry.value(), letters, Waterleaf.tables.letters)
        : Waterleaf.judge(entry.value(), entry.expected, Waterleaf.tables, "point");
      entry.mark(verdict.kind === "right");
      if (!worst || (worst.verdict.kind === "right" && verdict.kind !== "right")) { worst = { entry: entry, verdict: verdict }; }
    });
    return worst;
  }

  /* The first word of a verdict: what could not be read was not nearly right either. */
  function opening(verdict, typed) {
    if (verdict.kind === "right") { return "Right."; }
    if (verdict.kind === "unreadable" || verdict.kind === "unknown_unit") {
      return typed ? "I cannot read this yet." : "There is no answer here yet.";
    }
    return NEAR.indexOf(verdict.kind) >= 0 ? "Nearly." : "Not yet.";
  }

  /* The judge's sentence, without what the first word has said already. */
  function sentence(verdict, kind) {
    if (verdict.kind === "unreadable" && kind === "choice") { return "Choose one of the answers."; }
    const plain = Waterleaf.tables.messages;
    return verdict.message === plain.right ? ""
      : verdict.message === plain.wrong ? "Go back over your steps one by one." : verdict.message;
  }

  /* One question: its answer boxes, the verdict, the hint and the working. */
  function question(data, set, index, sitting, lessons) {
    const same = data.same[index], part = set.parts[index];
    const asked = nextId("ask"), said = nextId("verdict");
    const status = make("div", { "class": "wl-verdict", id: said, role: "status" });
    const aid = help(data, same, part, index, sitting);
    const boxes = same.kind === "choice" ? [choices(data, part, asked)] : part.expected.map(function (numbers, at) {
      const name = part.expected.length > 1 ? "Time " + (at + 1) : same.unit ? "Your answer with its unit" : "Your answer";
      return typed(same, numbers, name, [asked, said], look);
    });
    const letters = same.kind === "choice" || same.kind === "order" ? part.expected[0] : null;
    let misses = 0;

    function say(entry, verdict) {
      const near = NEAR.indexOf(verdict.kind) >= 0 ? "near" : "wrong";
      const which = boxes.length > 1 && verdict.kind !== "right" ? entry.name + ": " : "";
      misses += verdict.kind === "wrong" ? 1 : 0;
      const nudge = misses > 1 && verdict.kind === "wrong" && aid.hasHint() ? " A hint may help." : "";
      status.setAttribute("data-kind", verdict.kind === "right" ? "right" : near);
      status.replaceChildren(
        make("strong", { text: opening(verdict, entry.value().trim()) }), " ",
        make("span", { text: which + sentence(verdict, same.kind) + nudge })
      );
      if (verdict.echo) { status.appendChild(make("span", { "class": "wl-echo", text: verdict.echo })); }
    }

    function look() {
      const first = judged(boxes, letters), verdict = first.verdict;
      say(first.entry, verdict);
      const place = letters ? letters.see[boxes[0].value()] : same.see[verdict.slip];
      if (verdict.kind === "slip" && place) { status.appendChild(lessonLink(lessons, place)); }
      status.scrollIntoView({ block: "nearest" });
      sitting.checked(index, verdict, set.parts.length);
    }

    const letter = set.parts.length > 1 ? "(" + String.fromCharCode(97 + index) + ") " : "";
    return make("section", { "class": "wl-question", "aria-labelledby": asked }, [
      make("p", { id: asked, text: letter + unpack(data, part.ask) })
    ].concat(same.kind === "order" ? [list(data, part)] : [], boxes.map(function (entry) { return entry.row; }), [
      Waterleaf.widgets.row([button("Check my answer", look, true)].concat(aid.controls)), status, aid.place
    ]));
  }

  function show(place, data, set, sitting, lessons) {
    const story = make("p", { tabindex: "-1", "class": "wl-story", text: unpack(data, set.story) });
    const nodes = [story, readings(set.table)].filter(Boolean);
    place.replaceChildren.apply(place, nodes.concat(set.parts.map(function (part, index) {
      return question(data, set, index, sitting, lessons);
    })));
    if (Waterleaf.reachable) { Waterleaf.reachable(); }
    return story;
  }

  window.Waterleaf.exercise = { sitting: sitting, show: show };
}());
