/* Reads typed units: the twin of waterleaf/marking/units.py. The judge says more.

   Waterleaf.units.read(text, tables)                   -> {factor, offset, dims, shown, twin, vague, fault, word}
   Waterleaf.units.pure(tables)                         -> the dimensions of a number without a unit
   Waterleaf.units.same(left, right)                    -> whether two dimensions are one */
(function (root) {
  "use strict";

  const { Fault, caught, own, clean, lower, raised, lowered, patterns, at } = root.Waterleaf.characters;

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

  root.Waterleaf.units = { read: readUnit, pure: pure, same: same };
}(globalThis));
