/* Reads typed numbers and clock times: the twin of waterleaf/marking/reading.py. The judge says more.

   Waterleaf.reading.answer(text, tables, decimal)      -> {value, digits, ..., echo, fault}
   Waterleaf.reading.clock(text, tables)                -> the same, in hours after midnight
   Waterleaf.reading.echo(found, unit, tables)          -> how the answer was read, in words */
(function (root) {
  "use strict";

  const { Fault, caught, clean, lower, raised, lowered, fill, patterns, at } = root.Waterleaf.characters;

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

  root.Waterleaf.reading = { answer: readAnswer, clock: readClock, echo: echo };
}(globalThis));
