/* Practice pages: shows a drawn set, reads answers, says what the judge found. Every text shown was made in Python;
   this script only fills numbers into patterns and moves focus. Nothing is sent anywhere. */
(function () {
  "use strict";

  var GAP = "\u0001";
  var NEAR = ["right_no_unit", "wrong_unit", "coarse", "unknown_unit", "unreadable"];
  var counter = 0;

  function unpack(data, packed) {
    var pieces = data.patterns[packed[0]].split(GAP);
    var text = pieces[0];
    for (var i = 1; i < pieces.length; i += 1) { text += packed[i] + pieces[i]; }
    return text;
  }

  /* What the judge expects: what all sets share, and the numbers of this one. */
  function expectation(same, numbers) {
    var whole = Object.assign({ coarse: [], zero_ok: false }, same.expected, numbers);
    whole.slips = numbers.slips.map(function (band, index) { return [band[0], band[1], same.says[index]]; });
    return whole;
  }

  function make(tag, attributes, children) {
    var node = document.createElement(tag);
    Object.keys(attributes || {}).forEach(function (name) {
      if (name === "text") { node.textContent = attributes[name]; } else { node.setAttribute(name, attributes[name]); }
    });
    (children || []).forEach(function (child) { if (child) { node.appendChild(child); } });
    return node;
  }

  function nextId(word) { counter += 1; return "wl-" + word + "-" + counter; }

  function button(text, action, main) {
    var node = make("button", { type: "button", text: text, "class": main ? "wl-main" : "" });
    node.addEventListener("click", action);
    return node;
  }

  function table(data) {
    if (!data) { return null; }
    var head = make("tr", {}, data.headings.map(function (h) { return make("th", { scope: "col", text: h }); }));
    var body = data.rows.map(function (row) {
      return make("tr", {}, row.map(function (cell) { return make("td", { text: cell }); }));
    });
    return make("table", { "class": "wl-readings" }, [
      make("caption", { text: data.caption }), make("thead", {}, [head]), make("tbody", {}, body)
    ]);
  }

  function lessonLink(place) {
    var parts = place.split("#");
    return make("a", { href: "../" + parts[0] + "/index.html#" + parts[1], text: "Read about it in the lesson" });
  }

  /* The boxes of a choice: a button for each option, read as its letter. */
  function choices(data, part, asked) {
    var name = nextId("choice"), chosen = "";
    var rows = part.options.map(function (option) {
      var id = nextId("option");
      var radio = make("input", { type: "radio", name: name, id: id, value: option[0] });
      radio.addEventListener("change", function () { chosen = option[0]; });
      return make("div", { "class": "wl-row" }, [radio, make("label", { "for": id, text: option[0] + "  " + unpack(data, option[1]) })]);
    });
    var group = make("div", { role: "radiogroup", "aria-labelledby": asked }, rows);
    return { value: function () { return chosen; }, row: group, mark: function () { return null; } };
  }

  function list(data, part) {
    return make("ul", { "class": "wl-items" }, part.options.map(function (option) {
      return make("li", { text: option[0] + "  " + unpack(data, option[1]) });
    }));
  }

  /* One question: its answer boxes, the verdict, the hint and the working. */
  function question(data, same, part, letter) {
    var asked = nextId("ask"), said = nextId("verdict");
    var status = make("div", { "class": "wl-verdict", id: said, role: "status" });
    var extra = make("div");
    var boxes = same.kind === "choice" ? [choices(data, part, asked)] : part.expected.map(function (numbers, index) {
      var box = make("input", { type: "text", id: nextId("answer"), autocomplete: "off", spellcheck: "false", "aria-describedby": asked + " " + said });
      var name = part.expected.length > 1 ? "Time " + (index + 1) : same.unit ? "Your answer with its unit" : "Your answer";
      var unit = same.unit ? make("span", { text: "for example in " + same.unit }) : null;
      box.addEventListener("keydown", function (event) { if (event.key === "Enter") { look(); } });
      return {
        value: function () { return box.value; },
        mark: function (right) { box.setAttribute("aria-invalid", right ? "false" : "true"); },
        expected: same.kind === "order" ? numbers : expectation(same, numbers),
        row: make("div", { "class": "wl-row" }, [make("label", { "for": box.id, text: name }), box, unit])
      };
    });
    var letters = same.kind === "choice" || same.kind === "order" ? part.expected[0] : null;

    function say(kind, word, message, echo) {
      status.setAttribute("data-kind", kind);
      status.replaceChildren(make("strong", { text: word }), make("span", { text: message }));
      if (echo) { status.appendChild(make("span", { "class": "wl-echo", text: echo })); }
    }

    function look() {
      var worst = null, slip = null;
      boxes.forEach(function (entry) {
        var verdict = letters
          ? Waterleaf.judgeLetters(entry.value(), letters, Waterleaf.tables.letters)
          : Waterleaf.judge(entry.value(), entry.expected, Waterleaf.tables, "point");
        entry.mark(verdict.kind === "right");
        if (!worst || (worst.kind === "right" && verdict.kind !== "right")) { worst = verdict; slip = verdict.slip; }
      });
      if (worst.kind === "right") { say("right", "Right.", worst.message, worst.echo); return; }
      say(NEAR.indexOf(worst.kind) >= 0 ? "near" : "wrong", NEAR.indexOf(worst.kind) >= 0 ? "Nearly." : "Not yet.", worst.message, worst.echo);
      var place = letters ? letters.see[boxes[0].value()] : same.see[slip];
      if (worst.kind === "slip" && place) { status.appendChild(lessonLink(place)); }
    }

    function hint() { extra.replaceChildren(make("p", { text: unpack(data, same.hint) })); }

    function working() {
      var shown = make("div", { "class": "wl-working", tabindex: "-1" });
      shown.innerHTML = unpack(data, part.working);
      extra.replaceChildren(shown);
      if (Waterleaf.reachable) { Waterleaf.reachable(); }
      shown.focus();
    }

    var hinted = unpack(data, same.hint) !== "";
    return make("section", { "class": "wl-question", "aria-labelledby": asked }, [
      make("p", { id: asked, text: (letter ? letter + " " : "") + unpack(data, part.ask) })
    ].concat(same.kind === "order" ? [list(data, part)] : [], boxes.map(function (entry) { return entry.row; }), [
      make("div", { "class": "wl-row wl-controls" }, [
        button("Check my answer", look, true), hinted ? button("Give me a hint", hint) : null, button("Show the working", working)
      ]),
      status, extra
    ]));
  }

  function start(place) {
    var source = document.getElementById("wl-data");
    if (!source || !window.Waterleaf || !Waterleaf.judge) { return; }
    var data = JSON.parse(source.textContent);
    var system = "metric", set = 0;
    var body = make("div"), count = make("span", { role: "status" });

    function show(focus) {
      var chosen = data.sets[system][set];
      var story = make("p", { tabindex: "-1", text: unpack(data, chosen.story) });
      body.replaceChildren.apply(body, [story, table(chosen.table)].filter(Boolean).concat(
        chosen.parts.map(function (part, index) {
          return question(data, data.same[system][index], part, chosen.parts.length > 1 ? "(" + String.fromCharCode(97 + index) + ")" : "");
        })
      ));
      count.textContent = "Set " + (set + 1) + " of " + data.sets[system].length;
      if (focus) { story.focus(); }
    }

    function choice(value, text) {
      var id = nextId("units");
      var radio = make("input", { type: "radio", name: "wl-units", id: id, value: value });
      radio.checked = value === system;
      radio.addEventListener("change", function () { system = value; show(false); });
      return make("span", { "class": "wl-row" }, [radio, make("label", { "for": id, text: text })]);
    }

    place.replaceChildren(
      make("div", { "class": "wl-row wl-controls" }, [
        make("fieldset", { "class": "wl-row" }, [make("legend", { text: "Units" }), choice("metric", "Metric"), choice("us", "US customary")]),
        button("Other numbers", function () { set = (set + 1) % data.sets[system].length; show(true); }), count
      ]),
      body
    );
    show(false);
  }

  document.addEventListener("DOMContentLoaded", function () {
    document.querySelectorAll(".wl-practice").forEach(start);
  });
}());
