/* The judge, as the browser runs it: the twin of waterleaf/marking (reading.py, units.py, judge.py).

   It reads a typed answer and compares it with numbers that were worked out beforehand. It computes no key and holds no
   sentence, no unit and no pattern of its own: all of them come in `tables`, which marking/judge.py exports. Function by
   function it follows the Python code; tests hold the two together, so a change here needs its like there.

   Waterleaf.judge(text, expected, tables, decimal)     -> {kind, message, echo, slip}
   Waterleaf.judge.read(text, tables, decimal)          -> {value, digits, ..., echo, fault}
   Waterleaf.judge.readClock(text, tables)              -> the same, in hours after midnight
   Waterleaf.judge.readUnit(text, tables)               -> {factor, offset, dims, shown, twin, vague, fault, word}

   Only * / + - and comparisons touch a number: those give the same bits in every language. Names typed by a student are
   looked up as own properties only, so "constructor" is an unknown unit like any other.

   Where the band is not known here but sealed, `expected.accepts` stands in for it: a function that says of a value
   whether it lies inside. Such an answer has no slips. */
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

  // ---- characters.py ----

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

  // ---- Patterns, compiled once for each set of tables ----

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

  // ---- reading.py ----

  function reading(parts) {
    return Object.assign(
      { value: null, digits: "", figures: 0, places: 0, unit_text: "", shown: "", aside: "", echo: "", fault: "" }, parts
    );
  }

  function line(text, ifEmpty, tables) {
    const longest = tables.reading.longest;
    // A character takes one or two units of length here; counting them one by one is only done for short texts.
    if (text.length > 2 * longest || Array.from(text).length > longest) {
      throw new Fault("too_long");
    }
    const cleaned = clean(text, tables);
    if (cleaned === "") {
      throw new Fault(ifEmpty);
    }
    if (patterns(tables).search_foreign_digit.test(cleaned)) {
      throw new Fault("digits");
    }
    return cleaned;
  }

  function readAnswer(text, tables, decimal) {
    try {
      return readLine(line(text, "empty", tables), tables, decimal);
    } catch (fault) {
      return reading({ fault: tables.messages[caught(fault).code] });
    }
  }

  function readLine(cleaned, tables, decimal) {
    const low = lower(cleaned);
    const opened = afterOpeners(low, tables);
    const head = at(patterns(tables).head, low, opened);
    if (head[1] && head[3]) {
      throw new Fault("shape");
    }
    const sign = head[1] === "-" || head[1] === "minus" || head[3] === "-" ? "-" : "";
    const number = fractionAt(low, head.end, sign, tables) || decimalAt(low, head.end, sign, tables, decimal);
    // A ratio such as 1.4:1 is its first number.
    const stop = at(patterns(tables).to_one, low, number.end) ? number.end : low.length;
    // JavaScript keeps no position of a group: the money sign follows the first sign and its space.
    const moneyAt = opened + head[1].length + (low.charAt(opened + head[1].length) === " " ? 1 : 0);
    const money = cleaned.slice(moneyAt, moneyAt + head[2].length);
    const unit = unitText(cleaned.slice(0, stop), low.slice(0, stop), number.end, money, tables);
    const found = reading({
      value: number.value, digits: digitsOf(number), figures: number.figures, places: number.places, unit_text: unit,
      shown: shownNumber(number, tables, decimal), aside: asideOf(number, tables)
    });
    found.echo = echo(found, unit, tables);
    return found;
  }

  function afterOpeners(low, tables) {
    const known = patterns(tables);
    let position = 0;
    for (let turn = 0; turn < 3; turn += 1) {
      if (at(known.limit, low, position)) {
        throw new Fault("limit");
      }
      if (at(known.between, low, position)) {
        throw new Fault("range");
      }
      const opener = at(known.opener, low, position);
      if (!opener) {
        break;
      }
      position = opener.end;
    }
    return position;
  }

  function unitText(cleaned, low, end, money, tables) {
    const known = patterns(tables);
    tables.reading.not_a_unit.forEach(function (pair) {
      if (at(known[pair[0]], low, end)) {
        throw new Fault(pair[1]);
      }
    });
    if (known.search_range.test(low.slice(end))) {
      throw new Fault("range");
    }
    const unit = cleaned.slice(end).replace(/^[ .,;:]+/, "").replace(/[ .,;:]+$/, "");
    if (!money || at(known.dollars, lower(unit), 0)) {
      return unit;
    }
    return unit === "" || unit.charAt(0) === "/" ? money + unit : money + " " + unit;
  }

  function fractionAt(low, start, sign, tables) {
    const known = patterns(tables);
    let match = at(known.fraction, low, start);
    let top;
    let bottom;
    if (match) {
      top = match[2];
      bottom = match[3];
    } else {
      match = at(known.vulgar, low, start);
      if (!match) {
        return null;
      }
      [top, bottom] = tables.reading.vulgar[match[2]].split("/");
    }
    const below = Number(bottom);
    if (below === 0) {
      throw new Fault("divided_by_zero");
    }
    if (match[1] && (Number(top) >= below || top.length > 2)) {
      throw new Fault("sum");
    }
    const above = Number(match[1] || 0) * below + Number(top);
    return fractionNumber(match.end, above, below, above ? sign : "", tables.reading.fraction_places);
  }

  // The pattern allows four digits each, so every step stays a whole number that a double holds exactly.
  function fractionNumber(end, above, below, sign, places) {
    const scale = Number("1e" + places);
    const doubled = 2 * above * scale + below;
    const rounded = (doubled - doubled % (2 * below)) / (2 * below);
    const fraction = String(rounded % scale).padStart(places, "0").replace(/0+$/, "");
    const whole = String((rounded - rounded % scale) / scale);
    const value = above / below;
    return {
      end: end, value: sign ? -value : value, sign: sign, whole: whole, fraction: fraction,
      power: 0, figures: 0, places: 0, ambiguous: false
    };
  }

  function decimalAt(low, start, sign, tables, decimal) {
    const known = patterns(tables);
    const body = at(known.body, low, start);
    if (!body) {
      throw new Fault("no_number");
    }
    let end = body.end;
    let [whole, fraction, ambiguous] = parted(body[0], decimal);
    let marked = fraction !== "";
    if (/^[0-9]+$/.test(body[0]) && at(known.point_after, low, end)) {
      marked = true;
      end += 1;
    }
    let power = body[0] === "10" && !marked ? at(known.power_alone, low, end) : null;
    if (power) {
      whole = "1";
    } else {
      power = at(known.power_e, low, end) || at(known.power_ten, low, end);
    }
    const typed = power ? lowered(power.slice(1).filter(Boolean).join(""), tables) : "";
    end = power ? power.end : end;
    const figures = figuresOf(whole + fraction, marked || typed !== "");
    return decimalNumber({ end: end, sign: sign, whole: whole, fraction: fraction, figures: figures, ambiguous: ambiguous },
      typed, tables);
  }

  // The parts of a number with its value, and its power of ten written out if that is not too long.
  function decimalNumber(parts, typed, tables) {
    const value = Number(parts.whole + "." + (parts.fraction || "0") + "e" + (typed || "0"));
    const zero = /^0*$/.test(parts.whole + parts.fraction);
    if (!isFinite(value) || (value === 0 && !zero)) {
      throw new Fault("size");
    }
    const power = zero ? 0 : parseInt(typed || "0", 10);
    const written = Math.abs(power) <= tables.reading.written_out;
    const [whole, fraction] = written ? shifted(parts.whole, parts.fraction, power) : [parts.whole, parts.fraction];
    return Object.assign(parts, {
      value: parts.sign && !zero ? -value : value, sign: zero ? "" : parts.sign, whole: whole, fraction: fraction,
      power: written ? 0 : power, places: Math.max(0, parts.fraction.length - power),
      ambiguous: parts.ambiguous && power === 0
    });
  }

  function parted(body, decimal) {
    const parts = body.split(/[.,' ]/);
    const marks = body.replace(/[0-9]+/g, "").split("");
    if (parts[0] === "") {
      if (marks.length > 1) {
        throw new Fault("shape");
      }
      return ["0", parts[1], false];
    }
    let fraction = "";
    let ambiguous = false;
    const last = marks[marks.length - 1];
    if (last === "." || last === ",") {
      const others = marks.slice(0, -1);
      if (others.length === 0 && parts[1].length === 3 && parts[0].length <= 3 && parts[0].charAt(0) !== "0") {
        ambiguous = last === (decimal === "comma" ? "," : ".");
      }
      if (ambiguous || (others.indexOf(last) < 0 && (others.length > 0 || !grouped(parts)))) {
        fraction = parts.pop();
        marks.pop();
      }
    }
    if (marks.length > 0 && (new Set(marks).size > 1 || !grouped(parts))) {
      throw new Fault(marks[0] === " " && marks[marks.length - 1] === " " ? "two_numbers" : "shape");
    }
    return [parts.join("").replace(/^0+/, "") || "0", fraction, ambiguous];
  }

  function grouped(parts) {
    return parts[0].length <= 3 && parts[0].charAt(0) !== "0"
      && parts.slice(1).every(function (part) { return part.length === 3; });
  }

  function figuresOf(digits, allCount) {
    const leading = digits.replace(/^0+/, "");
    return Math.max(1, (allCount ? leading : leading.replace(/0+$/, "")).length);
  }

  function shifted(whole, fraction, power) {
    if (power > 0) {
      const moved = fraction.slice(0, power).padEnd(power, "0");
      return [(whole + moved).replace(/^0+/, "") || "0", fraction.slice(power)];
    }
    if (power < 0) {
      const padded = whole.padStart(1 - power, "0");
      return [padded.slice(0, power).replace(/^0+/, "") || "0", padded.slice(power) + fraction];
    }
    return [whole, fraction];
  }

  function digitsOf(number) {
    const point = number.fraction ? "." : "";
    return number.sign + number.whole + point + number.fraction + (number.power ? "e" + number.power : "");
  }

  function shownNumber(number, tables, decimal) {
    const rules = tables.reading;
    let whole = number.whole;
    if (whole.length >= rules.grouped_from) {
      const head = whole.length % 3;
      const groups = head ? [whole.slice(0, head)] : [];
      for (let from = head; from < whole.length; from += 3) {
        groups.push(whole.slice(from, from + 3));
      }
      whole = groups.join(rules.thin_space);
    }
    const point = number.fraction ? (decimal === "comma" ? "," : ".") : "";
    const power = number.power ? " × 10" + raised(number.power, tables) : "";
    return (number.sign ? "−" : "") + whole + point + number.fraction + power;
  }

  function asideOf(number, tables) {
    if (!number.ambiguous) {
      return "";
    }
    const near = number.whole;
    const far = String(Number(number.whole) + 1);
    return fill(tables.messages.aside, {
      below: number.sign ? "−" + far : near, above: number.sign ? "−" + near : far
    });
  }

  function echo(found, unit, tables) {
    let text = found.shown;
    if (unit.charAt(0) === "$") {
      const minus = text.charAt(0) === "−" ? "−" : "";
      text = minus + "$" + text.slice(minus.length) + unit.slice(1);
    } else if (unit !== "") {
      text += unit.charAt(0) === "/" || unit === "°" ? unit : " " + unit;
    }
    return fill(tables.messages.echo, { reading: text + found.aside });
  }

  function readClock(text, tables) {
    try {
      return readTime(lower(line(text, "clock_empty", tables)), tables);
    } catch (fault) {
      return reading({ fault: tables.messages[caught(fault).code] });
    }
  }

  function readTime(low, tables) {
    const known = patterns(tables);
    const opener = at(known.clock_opener, low, 0);
    const start = opener ? opener.end : 0;
    const word = at(known.clock_word, low, start);
    if (word) {
      return time(word[1] ? 12 : 0, 0, 0, tables);
    }
    const match = at(known.clock, low, start);
    if (!match) {
      if (known.search_clock_range.test(low)) {
        throw new Fault("range");
      }
      throw new Fault(at(known.clock_decimal, low, start) ? "clock_decimal" : "clock_shape");
    }
    let hour = Number(match[1]);
    const minute = Number(match[2] || match[4] || 0);
    const second = Number(match[3] || 0);
    const morning = match[5];
    const evening = match[6];
    const last = hour === 24 && minute === 0 && second === 0 && !morning && !evening;
    if (minute > 59 || second > 59 || (hour > 23 && !last) || (morning && hour > 12) || (evening && hour === 0)) {
      throw new Fault("clock_hours");
    }
    if (morning && hour === 12) {
      hour = 0;
    } else if (evening && hour < 12) {
      hour += 12;
    }
    return time(hour, minute, second, tables);
  }

  function time(hour, minute, second, tables) {
    function two(number) { return String(number).padStart(2, "0"); }
    const shown = two(hour) + ":" + two(minute) + (second ? ":" + two(second) : "");
    const found = reading({ value: hour + (minute * 60 + second) / 3600, digits: shown, shown: shown });
    found.echo = echo(found, "", tables);
    return found;
  }

  // ---- units.py ----

  function readUnit(text, tables) {
    const found = { factor: 1, offset: null, dims: pure(tables), shown: "", twin: null, vague: "", fault: "", word: "" };
    try {
      return Object.assign(found, new UnitReader(pieces(clean(text, tables), tables), tables).unit());
    } catch (fault) {
      return Object.assign(found, { fault: caught(fault).code, word: fault.word });
    }
  }

  function pure(tables) {
    return tables.units.dimensions.map(function () { return 0; });
  }

  function same(left, right) {
    return left.every(function (power, index) { return power === right[index]; });
  }

  function pieces(text, tables) {
    const found = [];
    let position = 0;
    while (position < text.length) {
      const match = at(patterns(tables).piece, text, position);
      if (!match || found.length === tables.units.most_pieces) {
        throw new Fault("unit_shape");
      }
      position = match.end;
      if (match[1]) {
        const digits = match[2] || match[3] || match[4] || match[5];
        found.push({ kind: "word", text: match[1], power: digits ? parseInt(lowered(digits, tables), 10) : null });
      } else if (match[6]) {
        found.push({ kind: "number", text: match[6], power: null });
      } else if (match[7]) {
        found.push({ kind: match[7], text: match[7], power: null });
      }
    }
    return found;
  }

  function UnitReader(found, tables) {
    this.pieces = found;
    this.tables = tables;
    this.rules = tables.units;
    this.factors = [];
    this.levels = [{ sign: 1, divided: false }];
    this.waiting = "";
    this.afterNumber = false;
    this.prefix = 0;
    this.vague = "";
  }

  UnitReader.prototype.level = function () {
    return this.levels[this.levels.length - 1];
  };

  UnitReader.prototype.unit = function () {
    let position = 0;
    while (position < this.pieces.length) {
      const piece = this.pieces[position];
      if (piece.kind === "word") {
        position += this.word(position);
        continue;
      }
      if (piece.kind === "number") {
        this.number(piece.text, position);
      } else {
        this.operator(piece.kind);
      }
      position += 1;
    }
    if (this.waiting || this.afterNumber || this.prefix || this.levels.length > 1) {
      throw new Fault("unit_shape");
    }
    return Object.assign(multiplied(this.factors, this.tables), { vague: this.vague });
  };

  UnitReader.prototype.operator = function (mark) {
    if (this.prefix || (mark !== "(" && (this.waiting || this.afterNumber))) {
      throw new Fault("unit_shape");
    }
    if (mark === "(") {
      const outer = this.level();
      const turned = this.waiting === "/" || this.afterNumber;
      this.levels.push(turned ? { sign: -outer.sign, divided: false } : { sign: outer.sign, divided: outer.divided });
      this.waiting = "";
      this.afterNumber = false;
    } else if (mark === ")") {
      if (this.levels.length === 1) {
        throw new Fault("unit_shape");
      }
      this.levels.pop();
    } else {
      this.wait(mark);
    }
  };

  UnitReader.prototype.wait = function (mark) {
    this.waiting = mark;
    if (mark === "/") {
      this.level().divided = true;
    }
  };

  UnitReader.prototype.number = function (digits, position) {
    if (position === 0 && digits === "1") {
      return;
    }
    if (this.waiting !== "/") {
      throw new Fault("two_numbers");
    }
    if (Number(digits) === 0 || this.prefix) {
      throw new Fault("unit_shape");
    }
    this.factor([Number(digits), null, pure(this.tables), digits, null], 1);
    this.afterNumber = true;
  };

  UnitReader.prototype.word = function (position) {
    for (let count = this.rules.longest_name; count > 0; count -= 1) {
      const run = this.pieces.slice(position, position + count);
      const joined = run.length === count && run.every(function (piece, index) {
        return piece.kind === "word" && (index === count - 1 || piece.power === null);
      });
      if (joined) {
        const name = run.map(function (piece) { return piece.text; }).join(" ");
        if (this.name(name, run[count - 1].power, position + count === this.pieces.length)) {
          return count;
        }
      }
    }
    const word = this.pieces[position].text;
    const before = position > 0 ? this.pieces[position - 1] : null;
    if (before && before.kind === "word" && lower(before.text) === this.rules.substance_after) {
      return 1;
    }
    const small = lower(word);
    throw new Fault(own(this.rules.vague, small) ? this.rules.vague[small] : "unknown_unit", word);
  };

  UnitReader.prototype.name = function (name, power, last) {
    const rules = this.rules;
    const small = lower(name);
    const key = own(rules.tokens, name) ? name : small;
    if (own(rules.tokens, key)) {
      this.factor(rules.tokens[key], (power === null ? 1 : power) * (this.prefix || 1));
      this.prefix = 0;
      this.vague = this.vague || (own(rules.vague, small) ? rules.vague[small] : "");
    } else if (power !== null) {
      return false;
    } else if (own(rules.fillers, small) || (last && own(rules.closing, small) && this.waiting === "")) {
      return true;
    } else if (own(rules.per, small)) {
      if (this.prefix || this.afterNumber || this.waiting === "*") {
        throw new Fault("unit_shape");
      }
      this.wait("/");
    } else if (own(rules.prefix_powers, small) && !this.prefix) {
      this.prefix = rules.prefix_powers[small];
    } else if (own(rules.suffix_powers, small) && this.factors.length > 0 && !this.waiting) {
      this.factors[this.factors.length - 1].power *= rules.suffix_powers[small];
    } else {
      return false;
    }
    return true;
  };

  UnitReader.prototype.factor = function (token, power) {
    const level = this.level();
    let sign = level.sign;
    if (this.waiting === "/" || this.afterNumber) {
      sign = -sign;
    } else if (level.divided && power > 0 && (!same(token[2], pure(this.tables)) || token[0] !== 1)) {
      throw new Fault("unit_order");
    }
    if (power === 0 || this.factors.length === this.rules.most_factors) {
      throw new Fault("unit_shape");
    }
    this.factors.push({ token: token, power: sign * power, followsNumber: this.afterNumber });
    this.waiting = "";
    this.afterNumber = false;
  };

  function multiplied(factors, tables) {
    if (factors.some(function (factor) { return Math.abs(factor.power) > tables.units.highest_power; })) {
      throw new Fault("unit_shape");
    }
    const alone = factors.length === 1 && factors[0].power === 1;
    const whole = product(factors, false, tables);
    const twin = factors.some(function (factor) { return factor.token[4]; }) ? product(factors, true, tables) : null;
    return {
      factor: whole[0], offset: alone ? factors[0].token[1] : null, dims: whole[1], shown: shownUnit(factors, tables),
      twin: twin
    };
  }

  function product(factors, inWater, tables) {
    let size = 1;
    const dims = pure(tables);
    factors.forEach(function (factor) {
      const token = factor.token;
      const [amount, vector] = inWater && token[4] ? token[4] : [token[0], token[2]];
      for (let turn = 0; turn < Math.abs(factor.power); turn += 1) {
        size = factor.power > 0 ? size * amount : size / amount;
      }
      vector.forEach(function (more, index) { dims[index] += more * factor.power; });
    });
    return [size, dims];
  }

  function shownUnit(factors, tables) {
    let text = "";
    factors.forEach(function (factor) {
      const power = factor.power;
      const shown = factor.token[3];
      if (shown.charAt(0) === "/" && power === 1) {
        text += shown;
        return;
      }
      const name = shown.indexOf("/") >= 0 && (text || power !== 1) ? "(" + shown + ")" : shown;
      const mark = factor.followsNumber ? " " : power < 0 ? "/" : text ? "·" : "";
      text += mark + name + (Math.abs(power) > 1 ? raised(Math.abs(power), tables) : "");
    });
    return text;
  }

  // ---- expected.py and judge.py ----

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

  judge.read = readAnswer;
  judge.readClock = readClock;
  judge.readUnit = readUnit;
  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.judge = judge;
}(globalThis));
