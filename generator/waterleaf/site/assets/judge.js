/* The judge, as the browser runs it: the twin of waterleaf/marking (expected.py, judge.py).

   With characters.js, reading.js and units.js, which come before it, it reads a typed answer and compares it with numbers
   that were worked out beforehand. These scripts compute no key and hold no sentence, no unit and no pattern of their
   own: all of them come in `tables`, which marking/judge.py exports. Function by function they follow the Python code;
   tests hold the two together, so a change here needs its like there.

   Waterleaf.judge(text, expected, tables, decimal)     -> {kind, message, echo, slip}

   Only * / + - and comparisons touch a number: those give the same bits in every language.

   Where the band is not known here but sealed, `expected.accepts` stands in for it: a function that says of a value
   whether it lies inside. Such an answer has no slips. */
(function (root) {
  "use strict";

  const { own, fill } = root.Waterleaf.characters;
  const { answer: readAnswer, clock: readClock, echo } = root.Waterleaf.reading;
  const { read: readUnit, pure, same } = root.Waterleaf.units;

  function converted(value, unit, factor, offset) {
    if (unit.offset === null || offset === null) {
      return unit.factor === factor ? value : value * unit.factor / factor;
    }
    if (unit.factor === factor && unit.offset === offset) {
      return value;
    }
    return (value * unit.factor + unit.offset - offset) / factor;
  }

  function inside(value, low, high, room, tables) {
    const hair = tables.hair * Math.max(Math.abs(low), Math.abs(high), room);
    return low - hair <= value && value <= high + hair;
  }

  function verdict(kind, message, said, slip) {
    return { kind: kind, message: message, echo: said || "", slip: slip === undefined ? null : slip };
  }

  function judge(text, expected, tables, decimal) {
    const typed = typeof text === "string" ? text : "";
    if (expected.kind === "clock") {
      return judgeClock(readClock(typed, tables), expected, tables);
    }
    const found = readAnswer(typed, tables, decimal);
    if (found.value === null) {
      return verdict("unreadable", found.fault);
    }
    let unit = readUnit(found.unit_text, tables);
    if (unit.fault) {
      return judgeFault(unit, found, expected, tables);
    }
    const said = echo(found, unit.shown, tables);
    if (unit.shown === "") {
      return judgeBare(found.value, found, expected, said, tables);
    }
    if (!same(unit.dims, expected.dims) && unit.twin && same(unit.twin[1], expected.dims)) {
      unit = { factor: unit.twin[0], offset: null, dims: unit.twin[1], shown: unit.shown, vague: unit.vague };
    }
    const fits = accepted(found.value, expected, tables);
    if (!same(unit.dims, expected.dims) && unit.vague) {
      return verdict("unknown_unit", say(unit.vague, expected, tables, unit.shown), said);
    }
    if (!same(unit.dims, expected.dims)) {
      const code = fits ? "other_dimension_fits" : "other_dimension";
      return verdict("other_dimension", say(code, expected, tables, unit.shown), said);
    }
    const value = converted(found.value, unit, expected.factor, expected.offset);
    if (accepted(value, expected, tables)) {
      return verdict("right", tables.messages.right, said);
    }
    if (fits) {
      return verdict("wrong_unit", say("wrong_unit", expected, tables, unit.shown), said);
    }
    return judgeNumber(value, found, expected, said, tables);
  }

  function judgeFault(unit, found, expected, tables) {
    if (unit.word) {
      return verdict("unknown_unit", say(unit.fault, expected, tables, unit.word), found.echo);
    }
    return verdict("unreadable", tables.messages[unit.fault]);
  }

  function judgeBare(value, found, expected, said, tables) {
    const pureShare = same(expected.dims, pure(tables));
    const plain = pureShare && expected.factor === 1;
    if (accepted(value, expected, tables)) {
      if (!expected.unit_needed || plain || (value === 0 && expected.zero_ok)) {
        return verdict("right", tables.messages.right, said);
      }
      return verdict("right_no_unit", say("right_no_unit", expected, tables), said);
    }
    const first = judgeNumber(value, found, expected, said, tables);
    if (!pureShare || !expected.unit_needed) {
      return first;
    }
    const share = value / expected.factor;
    if (accepted(share, expected, tables)) {
      return verdict("right", tables.messages.right, said);
    }
    return first.kind === "wrong" ? judgeNumber(share, found, expected, said, tables) : first;
  }

  function judgeNumber(value, found, expected, said, tables) {
    const space = room(expected);
    for (let index = 0; index < expected.slips.length; index += 1) {
      const [low, high, feedback] = expected.slips[index];
      if (inside(value, low, high, space, tables)) {
        return verdict("slip", feedback, said, index);
      }
    }
    if (expected.kind === "whole" && !isWhole(value, tables)) {
      return verdict("wrong", tables.messages.not_whole, said);
    }
    const coarse = expected.coarse.some(function (entry) {
      return found.figures > 0 && found.figures <= entry[1] && inside(value, entry[0], entry[0], space, tables);
    });
    if (coarse) {
      return verdict("coarse", say("coarse", expected, tables), said);
    }
    return verdict("wrong", tables.messages.wrong, said);
  }

  function judgeClock(found, expected, tables) {
    if (found.value === null) {
      return verdict("unreadable", found.fault);
    }
    const times = [found.value, found.value - tables.day, found.value + tables.day];
    function near(low, high, shift) {
      return times.some(function (moment) { return inside(moment + shift, low, high, 0, tables); });
    }
    if (expected.accepts ? times.some(expected.accepts) : near(expected.low, expected.high, 0)) {
      return verdict("right", tables.messages.right, found.echo);
    }
    if (expected.accepts) {
      return verdict("wrong", tables.messages.wrong, found.echo);
    }
    for (let index = 0; index < expected.slips.length; index += 1) {
      const [low, high, feedback] = expected.slips[index];
      if (near(low, high, 0)) {
        return verdict("slip", feedback, found.echo, index);
      }
    }
    const half = tables.day / 2;
    if (near(expected.low, expected.high, -half) || near(expected.low, expected.high, half)) {
      return verdict("wrong", tables.messages.half_day, found.echo);
    }
    return verdict("wrong", tables.messages.wrong, found.echo);
  }

  function accepted(value, expected, tables) {
    if (expected.kind === "whole" && !isWhole(value, tables)) {
      return false;
    }
    return expected.accepts ? expected.accepts(value) : inside(value, expected.low, expected.high, room(expected), tables);
  }

  function room(expected) {
    return expected.offset === null ? 0 : expected.offset / expected.factor;
  }

  function isWhole(value, tables) {
    return isFinite(value)
      && Math.abs(value - Math.floor(value + 0.5)) <= tables.hair * Math.max(1, Math.abs(value));
  }

  function say(code, expected, tables, typed) {
    const bare = code + "_none";
    const message = tables.messages[expected.shown === "" && own(tables.messages, bare) ? bare : code];
    return fill(message, { unit: expected.shown, typed: typed || "", figures: String(expected.figures) });
  }

  root.Waterleaf.judge = judge;
}(globalThis));
