/* What reading an answer and reading a unit share: the twin of waterleaf/marking/characters.py. The judge says more.

   Names typed by a student are looked up as own properties only, so "constructor" is an unknown unit like any other. */
(function (root) {
  "use strict";

  // An answer that cannot be read: the name of the message, and the word it is about.
  function Fault(code, word) {
    this.code = code;
    this.word = word || "";
  }

  function caught(fault) {
    if (!(fault instanceof Fault)) {
      throw fault;
    }
    return fault;
  }

  function own(object, name) {
    return Object.prototype.hasOwnProperty.call(object, name);
  }

  function clean(text, tables) {
    const swaps = tables.reading.swaps;
    let swapped = "";
    for (let at = 0; at < text.length; at += 1) {
      const character = text.charAt(at);
      swapped += own(swaps, character) ? swaps[character] : character;
    }
    return swapped.split(" ").filter(function (part) { return part !== ""; }).join(" ");
  }

  // Lower case for A to Z only, as the Python judge does it.
  function lower(text) {
    return text.replace(/[A-Z]+/g, function (run) { return run.toLowerCase(); });
  }

  function raised(number, tables) {
    return String(number).replace(/[-0-9]/g, function (digit) {
      return digit === "-" ? "⁻" : tables.reading.superscripts.charAt(Number(digit));
    });
  }

  function lowered(digits, tables) {
    let text = "";
    for (const character of digits) {
      const at = tables.reading.superscripts.indexOf(character);
      text += at >= 0 ? String(at) : character === "⁺" ? "+" : character === "⁻" ? "-" : character;
    }
    return text;
  }

  function fill(message, values) {
    return message.replace(/\{([a-z]+)\}/g, function (gap, name) { return values[name]; });
  }

  // Patterns are compiled once for each set of tables.
  const compiled = new WeakMap();

  function patterns(tables) {
    if (!compiled.has(tables)) {
      const found = { piece: new RegExp(tables.units.piece, "y") };
      Object.keys(tables.reading.patterns).forEach(function (name) {
        found[name] = new RegExp(tables.reading.patterns[name], name.indexOf("search") === 0 ? "" : "y");
      });
      compiled.set(tables, found);
    }
    return compiled.get(tables);
  }

  // The match that starts exactly at a position; `end` is added, as JavaScript does not keep it.
  function at(pattern, text, position) {
    pattern.lastIndex = position;
    const match = pattern.exec(text);
    if (match) {
      match.end = position + match[0].length;
    }
    return match;
  }

  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.characters = {
    Fault: Fault, caught: caught, own: own, clean: clean, lower: lower, raised: raised, lowered: lowered, fill: fill,
    patterns: patterns, at: at
  };
}(globalThis));
