/* The page on which a student checks a sheet. The link's part behind the # says which parts the sheet has and holds the
   sealed answers; all of it is shown as text alone. What is typed is kept on this device, and leaves it only as a file
   that the student saves. */
(function () {
  "use strict";

  var FORMAT = "waterleaf-answers", VERSION = 1, STORE = "waterleaf.check.", LONGEST = 200, LONGEST_NAME = 80;
  var WORDS = {
    right: ["right", "Right."], right_no_unit: ["near", "Nearly."], wrong_unit: ["near", "Wrong unit."],
    other_dimension: ["near", "Wrong unit."], unknown_unit: ["near", "I cannot read this yet."],
    unreadable: ["near", "I cannot read this yet."], two_ways: ["near", "This can be read in two ways."],
    blank: ["", "Nothing is typed here yet."], open: ["", "Your instructor looks at this one."]
  };
  // Where the unit is asked for, no message may give it away.
  var UNIT_ASKED = {
    right_no_unit: "Your number is right. Write its unit too.", wrong_unit: "Your number is right, but not in this unit.",
    other_dimension: "This unit does not measure what is asked for.", unknown_unit: "I do not know this unit."
  };
  var TWO_WAYS = "Write it so that there is no doubt: no mark between thousands, and digits behind the decimal mark.";
  var counter = 0;

  function make(tag, attributes, children) {
    var node = document.createElement(tag);
    Object.keys(attributes || {}).forEach(function (name) {
      if (name === "text") { node.textContent = attributes[name]; } else { node.setAttribute(name, attributes[name]); }
    });
    (children || []).forEach(function (child) { if (child) { node.appendChild(child); } });
    return node;
  }

  function nextId() { counter += 1; return "wl-check-" + counter; }

  function button(text, action, main) {
    var node = make("button", main ? { type: "button", text: text, "data-main": "" } : { type: "button", text: text });
    node.addEventListener("click", action);
    return node;
  }

  function pause() { return new Promise(function (go) { setTimeout(go, 0); }); }

  // ---- What this device keeps; a browser that keeps nothing is no obstacle ----

  function kept(code) {
    try {
      var found = JSON.parse(localStorage.getItem(STORE + code)) || {}, answers = {};
      Object.keys(found.answers || {}).forEach(function (label) {
        if (/^[0-9]{1,3}[a-z]?$/.test(label) && typeof found.answers[label] === "string") {
          answers[label] = found.answers[label].slice(0, LONGEST);
        }
      });
      return { name: typeof found.name === "string" ? found.name.slice(0, LONGEST_NAME) : "", answers: answers };
    } catch (error) {
      return { name: "", answers: {} };
    }
  }

  function keep(code, typed) {
    try { localStorage.setItem(STORE + code, JSON.stringify(typed)); } catch (error) { return; }
  }

  function forget(code) {
    try { localStorage.removeItem(STORE + code); } catch (error) { return; }
  }

  // ---- One part ----

  function hint(part, sheet) {
    if (part.kind === "choice") { return "one letter"; }
    if (part.kind === "order") { return "letters in order, as in B, A, C"; }
    if (part.kind === "times") { return "times, as in 6:30, 14:00"; }
    if (!part.unit.shown) { return sheet.askUnit ? "with its unit, if it has one" : "a number"; }
    return sheet.askUnit ? "with its unit" : "in " + part.unit.shown;
  }

  function show(status, verdict, sheet) {
    var words = WORDS[verdict.kind] || ["wrong", "Not yet."], message = verdict.message;
    if (sheet.askUnit && UNIT_ASKED[verdict.kind]) { message = UNIT_ASKED[verdict.kind]; }
    if (verdict.kind === "two_ways") { message = TWO_WAYS; }
    if (message === Waterleaf.tables.messages.wrong) { message = "Go back over your steps one by one."; }
    if (message === Waterleaf.tables.messages.right) { message = ""; }
    status.setAttribute("data-kind", words[0]);
    status.replaceChildren(make("strong", { text: words[1] }), " ", make("span", { text: message }));
    if (verdict.echo) { status.appendChild(make("span", { "class": "wl-check-echo", text: verdict.echo })); }
  }

  function question(part, sheet, typed) {
    var id = nextId(), told = nextId(), said = nextId(), turn = 0;
    var box = make("input", {
      type: "text", id: id, autocomplete: "off", autocapitalize: "off", spellcheck: "false", maxlength: String(LONGEST),
      "aria-describedby": told + " " + said
    });
    var status = make("p", { "class": "wl-check-verdict", id: said, role: "status" });
    box.value = typed.answers[part.label] || "";

    box.addEventListener("input", function () {
      turn += 1;
      status.replaceChildren();
      status.removeAttribute("data-kind");
      typed.answers[part.label] = box.value;
      keep(sheet.code, typed);
    });

    /* A verdict on what was changed meanwhile is not shown. */
    async function look() {
      var mine = turn += 1;
      status.removeAttribute("data-kind");
      status.replaceChildren(make("span", { text: "Checking …" }));
      await pause();
      var verdict = await Waterleaf.sealed.judge(part, box.value, sheet, Waterleaf.tables, pause);
      if (mine === turn) { show(status, verdict, sheet); }
    }

    box.addEventListener("keydown", function (event) { if (event.key === "Enter") { look(); } });
    return {
      look: look,
      blank: function () { return box.value.trim() === ""; },
      node: make("div", { "class": "wl-check-part" }, [
        make("div", { "class": "wl-check-line" }, [
          make("label", { "for": id, text: "Answer " + part.label }), box,
          make("span", { "class": "wl-check-hint", id: told, text: hint(part, sheet) }), button("Check " + part.label, look)
        ]),
        status
      ])
    };
  }

  // ---- The sheet ----

  function save(sheet, typed, status) {
    var answers = {};
    Object.keys(typed.answers).forEach(function (label) {
      if (typed.answers[label].trim() !== "") { answers[label] = typed.answers[label]; }
    });
    if (Object.keys(answers).length === 0) {
      status.textContent = "There is nothing to save yet. Type an answer first.";
      return;
    }
    var file = {
      format: FORMAT, version: VERSION, sheet: sheet.code, name: typed.name.trim(), saved: new Date().toISOString(),
      answers: answers
    };
    var name = "answers-" + sheet.code + ".json";
    var address = URL.createObjectURL(new Blob([JSON.stringify(file, null, 1) + "\n"], { type: "application/json" }));
    var link = make("a", { href: address, download: name });
    document.body.appendChild(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(address); }, 10000);
    status.textContent = "Saved as " + name + ", with " + Object.keys(answers).length + " answers. Hand that file in.";
  }

  function nameLine(sheet, typed) {
    var id = nextId(), box = make("input", {
      type: "text", id: id, autocomplete: "off", maxlength: String(LONGEST_NAME), value: typed.name
    });
    box.addEventListener("input", function () { typed.name = box.value; keep(sheet.code, typed); });
    return make("div", { "class": "wl-check-line" }, [
      make("label", { "for": id, text: "Your name" }), box,
      make("span", { "class": "wl-check-hint", text: "only for the file; you may leave it out" })
    ]);
  }

  function showSheet(place, sheet) {
    var typed = kept(sheet.code);
    var questions = sheet.parts.map(function (part) { return question(part, sheet, typed); });
    var told = make("p", { "class": "wl-check-verdict", role: "status" });

    async function lookAll() {
      for (var one of questions) {
        if (!one.blank()) { await one.look(); }
      }
    }

    function clear() {
      if (window.confirm("Clear your name and all answers of sheet " + sheet.code + " from this device?")) {
        forget(sheet.code);
        showSheet(place, sheet);
        place.querySelector("[role=status]:last-child").textContent = "All is cleared.";
      }
    }

    place.replaceChildren.apply(place, [
      make("h2", { text: "Sheet " + sheet.code, tabindex: "-1" }),
      make("p", { text: "Is this the code on your paper? If not, you have somebody else's link." }),
      nameLine(sheet, typed)
    ].concat(questions.map(function (one) { return one.node; }), [
      make("div", { "class": "wl-check-line" }, [
        button("Check all answers", lookAll, true),
        button("Save my answers as a file", function () { save(sheet, typed, told); }),
        button("Clear what I typed", clear)
      ]),
      told
    ]));
  }

  /* Without a link, or with one that cannot be read: a kind word, and a place to paste one. */
  function askForLink(place, message) {
    var id = nextId(), box = make("input", { type: "text", id: id, autocomplete: "off", spellcheck: "false" });
    var status = make("p", { "class": "wl-check-verdict", role: "status", text: message });

    function open() {
      var found = /(?:^|#)([0-9]{20,})$/.exec(box.value.trim());
      if (!found || !Waterleaf.sealed.read(found[1], Waterleaf.tables)) {
        status.textContent = "This is not the whole link of a sheet. Copy all of it, to its last digit.";
        return;
      }
      location.hash = found[1];
    }

    box.addEventListener("keydown", function (event) { if (event.key === "Enter") { open(); } });
    place.replaceChildren(status, make("div", { "class": "wl-check-line" }, [
      make("label", { "for": id, text: "Link of your sheet" }), box, button("Open", open, true)
    ]));
  }

  function start() {
    var place = document.getElementById("wl-check");
    if (!place || !window.Waterleaf || !Waterleaf.sealed || !Waterleaf.tables) { return; }
    var digits = location.hash.slice(1), sheet = Waterleaf.sealed.read(digits, Waterleaf.tables);
    if (sheet) {
      showSheet(place, sheet);
    } else if (digits === "" || document.getElementById(digits)) {
      askForLink(place, "Point the camera of a phone at the code on your worksheet, or paste the link of your sheet here.");
    } else {
      askForLink(
        place, "This link was cut short, or was made for another version of this page. Scan the code again, or ask your " +
        "instructor for the link."
      );
    }
  }

  document.addEventListener("DOMContentLoaded", start);
  window.addEventListener("hashchange", start);
}());
