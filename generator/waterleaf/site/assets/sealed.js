/* Reads the link of a self-check and looks at answers; twin of waterleaf/marking/sealed.py, checklink.py and of the
   parts of partmarks.py that judge. It knows no answer. The judge reads and converts what was typed and asks of some
   numbers whether they are accepted; each of these is hashed and held against the seal.

   Waterleaf.sealed.read(digits, tables)          -> {code, comma, askUnit, parts: [...]}, or null where it is no link
   Waterleaf.sealed.judge(part, text, sheet, tables, pause) -> a promise of {kind, message, echo} */
(function (root) {
  "use strict";

  var VERSION = 1, ROUNDS = 20000, KINDS = ["number", "whole", "times", "choice", "order", "open"];
  var CODE_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789", NO_UNIT = 255;
  var FINEST = 20, EVEN = 128, TAG = 4, END = 8, HALF = TAG + END, BAND = 2 * HALF;
  var MOST_DIGITS = 5000, MOST_PARTS = 400;
  // What Python takes for white space; the two languages do not agree of themselves.
  var SPACE = "[\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000]";
  var SPACED_TIMES = new RegExp("^" + SPACE + "*[0-9]{1,2}[:.][0-9]{2}(?:" + SPACE + "+[0-9]{1,2}[:.][0-9]{2})+" + SPACE + "*$");
  var SPACES = new RegExp(SPACE + "+"), OUTER = new RegExp("^" + SPACE + "+|" + SPACE + "+$", "g");

  function bytesOf(digits) {
    var hex = BigInt(digits).toString(16);
    if (hex.length % 2) { hex = "0" + hex; }
    var bytes = new Uint8Array(hex.length / 2);
    for (var i = 0; i < bytes.length; i += 1) { bytes[i] = parseInt(hex.slice(2 * i, 2 * i + 2), 16); }
    return bytes;
  }

  function ascii(text) {
    return Uint8Array.from(text, function (letter) { return letter.charCodeAt(0); });
  }

  function Damaged() {}

  /* Takes bytes one after the other; more than there are is damage. */
  function Taker(bytes) {
    this.bytes = bytes;
    this.at = 0;
  }

  Taker.prototype.take = function (count) {
    if (this.at + count > this.bytes.length) { throw new Damaged(); }
    this.at += count;
    return this.bytes.slice(this.at - count, this.at);
  };

  Taker.prototype.byte = function () { return this.take(1)[0]; };

  function codeOf(bytes) {
    var number = bytes.reduce(function (sum, byte) { return sum * 256 + byte; }, 0), text = "";
    for (var i = 0; i < 8; i += 1) {
      text = CODE_LETTERS.charAt(number % 32) + text;
      number = Math.floor(number / 32);
    }
    return text.slice(0, 4) + "-" + text.slice(4);
  }

  function unitOf(text, tables) {
    var unit = root.Waterleaf.units.read(text, tables);
    if (unit.fault) { throw new Damaged(); }
    return Object.assign(unit, { shown: unit.shown.charAt(0) === "/" ? "per " + unit.shown.slice(1) : unit.shown });
  }

  function part(taker, label, units) {
    var kind = KINDS[taker.byte()], found = { label: label, kind: kind, unit: null, bands: [] }, count, i, place;
    if (!kind) { throw new Damaged(); }
    if (kind === "number" || kind === "whole" || kind === "open") {
      place = taker.byte();
      if (place !== NO_UNIT && place >= units.length) { throw new Damaged(); }
      found.unit = place === NO_UNIT ? units.plain : units[place];
    }
    if (kind === "number" || kind === "whole") {
      found.grid = taker.byte();
      found.bands.push(taker.take(BAND));
    } else if (kind === "times") {
      found.grid = taker.byte();
      for (count = taker.byte(), i = 0; i < count; i += 1) { found.bands.push(taker.take(BAND)); }
    } else if (kind !== "open") {
      found.letters = kind === "order" ? taker.byte() : 1;
      found.tag = taker.take(TAG);
    }
    return found;
  }

  function readBytes(bytes, tables) {
    var end = bytes.length - 4, sum = root.Waterleaf.slow.sha256(bytes.slice(0, Math.max(0, end)));
    if (end < 8 || bytes[0] !== VERSION || [0, 1, 2, 3].some(function (i) { return sum[i] !== bytes[end + i]; })) {
      throw new Damaged();
    }
    var taker = new Taker(bytes.slice(1, end)), flags = taker.byte(), code = codeOf(taker.take(5)), units = [], parts = [];
    var i, j, size, label;
    for (i = taker.byte(); i > 0; i -= 1) {
      units.push(unitOf(new TextDecoder("utf-8", { fatal: true }).decode(taker.take(taker.byte())), tables));
    }
    units.plain = unitOf("", tables);
    var first = taker.byte(), questions = taker.byte();
    for (i = 0; i < questions; i += 1) {
      for (size = taker.byte(), j = 0; j < size; j += 1) {
        label = String(first + i + 1) + (size > 1 ? String.fromCharCode(97 + j) : "");
        parts.push(part(taker, label, units));
      }
    }
    if (taker.at !== taker.bytes.length || parts.length === 0 || parts.length > MOST_PARTS) { throw new Damaged(); }
    return { code: code, comma: (flags & 1) > 0, askUnit: (flags & 2) > 0, parts: parts };
  }

  function read(digits, tables) {
    if (typeof digits !== "string" || digits.length > MOST_DIGITS || !/^[1-9][0-9]+$/.test(digits)) { return null; }
    try {
      return readBytes(bytesOf(digits), tables);
    } catch (error) {
      return null; // damaged, or made by somebody else
    }
  }

  // ---- sealed.py ----

  function cell(value, number) {
    if (!isFinite(value)) { return Infinity; }
    var view = new DataView(new ArrayBuffer(8));
    if (number <= FINEST) {
      view.setFloat64(0, value + 0);
      view.setUint32(0, view.getUint32(0) >>> FINEST - number << FINEST - number);
      view.setUint32(4, 0);
      return view.getFloat64(0) + 0;
    }
    view.setUint32(0, number - EVEN + 1023 << 20); // two to that power, exactly
    var width = view.getFloat64(0), scaled = value / width;
    return isFinite(scaled) ? Math.floor(scaled) * width + 0 : Infinity;
  }

  function doubleBytes(value) {
    var bytes = new Uint8Array(8);
    new DataView(bytes.buffer).setFloat64(0, value);
    return bytes;
  }

  function salt(sheet, part, place) { return ascii(sheet.code + " " + part.label + " " + place); }

  /* The end of a band that a digest brings to light, or null where the seal is of another cell. */
  function opened(ends, digest, start) {
    var i, bytes = new Uint8Array(END);
    for (i = 0; i < TAG; i += 1) {
      if (ends[start + i] !== digest[start + i]) { return null; }
    }
    for (i = 0; i < END; i += 1) { bytes[i] = ends[start + TAG + i] ^ digest[start + TAG + i]; }
    return new DataView(bytes.buffer).getFloat64(0);
  }

  function inBand(value, ends, digest) {
    var low = opened(ends, digest, 0), high = opened(ends, digest, HALF);
    return !(low === null && high === null) && (low === null || value >= low) && (high === null || value <= high);
  }

  // ---- judging: twin of partmarks.py ----

  /* What the judge is told about a part: everything but the band. */
  function expectation(part, askUnit, accepts) {
    var unit = part.unit || { shown: "", factor: 1, offset: null, dims: [] };
    return {
      unit: unit.shown, shown: unit.shown, factor: unit.factor, offset: unit.offset, dims: unit.dims, low: 0, high: 0,
      figures: 1, coarse: [], slips: [], unit_needed: askUnit && unit.shown !== "", zero_ok: unit.offset === null,
      kind: part.kind === "times" ? "clock" : part.kind, accepts: accepts
    };
  }

  /* The judge is asked twice: first to learn which numbers it would compare, then with what their hashes said. */
  async function judgeSealed(part, text, sheet, place, tables, decimal, pause) {
    var asked = new Map();
    function note(value) { asked.set(value, false); return false; }
    root.Waterleaf.judge(text, expectation(part, sheet.askUnit, note), tables, decimal);
    for (var value of asked.keys()) {
      var edge = cell(value, part.grid);
      // On a clock, what lies more than half a day off is never inside a band.
      if (isFinite(edge) && !(part.kind === "times" && (value < -12 || value >= 36))) {
        await pause();
        var digest = root.Waterleaf.slow.pbkdf2(doubleBytes(edge), salt(sheet, part, place), ROUNDS);
        asked.set(value, inBand(value, part.bands[place], digest));
      }
    }
    function accepts(value) { return asked.get(value) === true; }
    return root.Waterleaf.judge(text, expectation(part, sheet.askUnit, accepts), tables, decimal);
  }

  async function judgeNumber(part, text, sheet, tables, pause) {
    var decimal = sheet.comma ? "comma" : "point";
    var found = await judgeSealed(part, text, sheet, 0, tables, decimal, pause);
    if (!right(found) && /[0-9][.,][0-9]/.test(text)) {
      var other = await judgeSealed(part, text, sheet, 0, tables, sheet.comma ? "point" : "comma", pause);
      if (right(other)) { return { kind: "two_ways", message: "", echo: found.echo }; }
    }
    return found;
  }

  function right(verdict) { return ["right", "right_no_unit", "wrong_unit"].indexOf(verdict.kind) >= 0; }

  function splitTimes(text) {
    var pieces = SPACED_TIMES.test(text) ? text.replace(OUTER, "").split(SPACES) : text.split(/[,;\n]| and /);
    return pieces.map(function (piece) { return piece.replace(OUTER, ""); }).filter(Boolean);
  }

  async function judgeTimes(part, text, sheet, tables, pause) {
    var pieces = splitTimes(text), verdicts = [], i;
    var unread = pieces.map(function (piece) { return root.Waterleaf.reading.clock(piece, tables); })
      .filter(function (reading) { return reading.fault; })[0];
    if (unread) { return { kind: "unreadable", message: unread.fault, echo: "" }; }
    if (pieces.length !== part.bands.length) { return { kind: "wrong", message: tables.messages.wrong, echo: "" }; }
    for (i = 0; i < pieces.length; i += 1) {
      verdicts.push(await judgeSealed(part, pieces[i], sheet, i, tables, "point", pause));
    }
    var first = verdicts.filter(function (verdict) { return verdict.kind !== "right"; })[0] || verdicts[0];
    var said = verdicts.map(function (verdict) { return verdict.echo.replace(/^read as /, ""); });
    return { kind: first.kind, message: first.message, echo: "read as " + said.join(", ") };
  }

  async function judgeLetters(part, text, sheet, tables, pause) {
    var letters = root.Waterleaf.readLetters(text), expected = { right: new Array(part.letters).fill(""), says: {} };
    if (letters.length === part.letters) {
      await pause();
      var digest = root.Waterleaf.slow.pbkdf2(ascii(letters.join()), salt(sheet, part, 0), ROUNDS);
      var same = part.tag.every(function (byte, at) { return byte === digest[at]; });
      expected.right = same ? letters : expected.right;
    }
    return root.Waterleaf.judgeLetters(text, expected, tables.letters);
  }

  async function judge(part, text, sheet, tables, pause) {
    if (text.replace(OUTER, "") === "") { return { kind: "blank", message: "", echo: "" }; }
    if (part.kind === "open") { return { kind: "open", message: "", echo: "" }; }
    if (part.kind === "times") { return judgeTimes(part, text, sheet, tables, pause); }
    if (part.kind === "choice" || part.kind === "order") { return judgeLetters(part, text, sheet, tables, pause); }
    return judgeNumber(part, text, sheet, tables, pause);
  }

  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.sealed = { read: read, judge: judge, cell: cell, ROUNDS: ROUNDS, MOST_DIGITS: MOST_DIGITS };
}(globalThis));
