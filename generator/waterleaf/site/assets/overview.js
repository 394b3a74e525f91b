/* The page "Your practice": what this device keeps, as tables; a record to print, save or take to another computer; and
   the button that clears it. */
(function () {
  "use strict";

  function start(place) {
    const widgets = Waterleaf.widgets, make = widgets.make, memory = Waterleaf.memory, record = Waterleaf.record;
    const catalogue = Waterleaf.catalogue;
    const status = make("p", { role: "status", "class": "wl-status" });
    const tables = make("div"), signed = make("div", { "class": "wl-signed" });
    const name = field("Your name"), group = field("Your class or group");

    function field(label) {
      const box = make("input", { type: "text", id: widgets.nextId("who"), autocomplete: "off", maxlength: "80" });
      box.addEventListener("input", sign);
      return { box: box, row: make("div", { "class": "wl-row wl-controls" }, [make("label", { "for": box.id, text: label }), box]) };
    }

    function who() { return { name: name.box.value.trim(), group: group.box.value.trim() }; }

    /* The line that stands on paper for the boxes. */
    function sign() {
      const text = "Name: " + (who().name || "not given") + ". Class or group: " + (who().group || "not given")
        + ". Made on " + record.date(memory.today()) + ".";
      signed.replaceChildren(make("p", { text: text }), make("p", { text: record.statement }));
    }

    // ---- Tables ----

    function share(first, asked) { return asked ? first + " of " + asked : "none yet"; }

    function topicTable(state, today) {
      return widgets.table("By topic", ["Topic", "Exercises met", "Questions right first time", "Due now", "Next due"],
        record.topics(state, catalogue, today).map(function (row) {
          return [
            make("a", { href: "../" + row.topic + "/index.html", text: row.name }), row.met + " of " + row.of,
            share(row.first, row.asked), row.due ? String(row.due) : "none",
            row.due ? "now" : row.next_day ? record.date(row.next_day) : "not met yet"
          ];
        }));
    }

    function exerciseTable(state, today) {
      return widgets.table("By exercise", ["Exercise", "Answers checked", "Questions right first time", "Newest verdicts", "Comes back"],
        record.exercises(state, catalogue).map(function (one) {
          return [
            make("a", { href: "../" + one.exercise.key + ".html", text: one.exercise.title }), String(one.record.checks),
            share(one.record.first, one.record.asked),
            one.record.verdicts.map(function (kind) { return record.words[kind]; }).join(", ") || "none",
            widgets.back(state, one.record, today)
          ];
        }));
    }

    function turns(state) {
      const met = record.exercises(state, catalogue).filter(function (one) { return one.record.turns.length; });
      return met.length === 0 ? make("p", { text: "No wrong turn has been named yet." }) : make("ul", {}, met.map(function (one) {
        return make("li", { text: one.exercise.title }, [make("ul", {}, one.record.turns.map(function (turn) {
          return make("li", { text: widgets.number(turn[1], "time", "times") + ": " + turn[0] });
        }))]);
      }));
    }

    function show() {
      const state = memory.state(), today = memory.today();
      const any = record.exercises(state, catalogue).length > 0;
      tables.replaceChildren(topicTable(state, today));
      if (any) {
        tables.append(exerciseTable(state, today), make("h2", { text: "Wrong turns met" }), turns(state));
      }
      if (Waterleaf.reachable) { Waterleaf.reachable(); }
      sign();
    }

    // ---- Files ----

    function save(kind, type) {
      const text = record[kind](memory.state(), catalogue, who(), memory.today());
      const file = URL.createObjectURL(new Blob([text], { type: type + ";charset=utf-8" }));
      const link = make("a", { href: file, download: "practice-record-" + record.date(memory.today()) + "." + kind });
      document.body.appendChild(link);
      link.click();
      link.remove();
      // The browser may still be reading it.
      window.setTimeout(function () { URL.revokeObjectURL(file); }, 10000);
      status.textContent = "Saved as " + link.download + ". Look in the folder for downloads.";
    }

    /* Something that cannot be undone is asked once more, in the place of its button. */
    function sure(around, text, yes, action, back) {
      const question = make("span", { tabindex: "-1", text: text });
      function leave(said) {
        around.replaceChildren(back);
        status.textContent = said;
        back.focus();
      }
      around.replaceChildren(
        question, widgets.button(yes, function () { action(); show(); leave("Done."); }, true),
        widgets.button("No, keep it", function () { leave("Nothing was changed."); })
      );
      question.focus();
    }

    function clearing() {
      const around = make("div", { "class": "wl-row wl-controls" });
      const press = widgets.button("Clear my practice", function () {
        sure(around, "This removes all that this device keeps of your practice. Clear it?", "Yes, clear it", memory.clear, press);
      });
      around.append(press);
      return around;
    }

    function loading() {
      const around = make("div", { "class": "wl-row wl-controls" });
      const box = make("input", { type: "file", accept: ".json,application/json", id: widgets.nextId("file") });
      const inside = make("span", { "class": "wl-row" }, [make("label", { "for": box.id, text: "Go on from a saved JSON record" }), box]);
      box.addEventListener("change", function () {
        const reader = new FileReader();
        reader.addEventListener("load", function () { take(String(reader.result)); });
        reader.addEventListener("error", function () { status.textContent = "That file could not be read."; });
        if (box.files.length) { reader.readAsText(box.files[0]); }
      });
      function take(text) {
        const found = record.kept(text, memory.today());
        box.value = "";
        if (!found) {
          status.textContent = "That is not a practice record saved as JSON. Nothing was changed.";
          return;
        }
        inside.focus = function () { box.focus(); };
        sure(around, "This puts the saved practice in the place of what this device keeps. Go on?", "Yes, go on", function () {
          memory.put(found);
        }, inside);
      }
      around.append(inside);
      return around;
    }

    const lasting = widgets.lastingLine() || "All of this is kept in this browser, on this device, and sent nowhere.";
    place.replaceChildren(
      make("p", { "class": "wl-controls", text: lasting }), signed, tables,
      make("div", { "class": "wl-controls" }, [make("h2", { text: "A record to hand in" })]),
      make("p", { "class": "wl-controls", text: "This stands on it: " + record.statement }), name.row, group.row,
      widgets.row([
        widgets.button("Print this record", function () { window.print(); }, true),
        widgets.button("Save as JSON", function () { save("json", "application/json"); }),
        widgets.button("Save as CSV", function () { save("csv", "text/csv"); })
      ]),
      make("div", { "class": "wl-controls" }, [status]),
      make("div", { "class": "wl-controls" }, [make("h2", { text: "Another computer, or a clean start" })]),
      loading(), clearing()
    );
    show();
  }

  document.addEventListener("DOMContentLoaded", function () {
    document.querySelectorAll("#wl-overview").forEach(start);
  });
}());
