/* What a device keeps of a student's practice: plain data, and how it changes. No page, no clock and no storage in here,
   so every change can be tried out with invented days. Days are counted in whole days, given by whoever calls.

   state  = { kit, version, units, count, last, topics, families: { "feed/daily_feed": record } }
            count: exercises done so far; last: the one that a round showed last; topics: those ticked for a round
   record = { checks, asked, first, verdicts, turns, ends, rung, due_day, due_count, day, next }
            asked: questions answered; first: of these, right at once and without help; verdicts: the newest ones;
            turns: wrong turns met, each with how often; ends: sets done; day: when last met; next: the set to show next

   Waterleaf.progress.blank(), read(text, today), record(state, key), copy(state)
   Waterleaf.progress.tried(state, key, what, today), ended(state, key, set, clean, today), passed(state, key, set, today)
   Waterleaf.progress.isDue(state, record, today), comesBack(state, record, today) */
(function (root) {
  "use strict";

  const KIT = "waterleaf practice";
  const VERSION = 1;
  // How long an exercise stays away: after a miss it is on the first rung, each good return moves it on by one.
  const GAPS = [{ others: 3 }, { others: 8 }, { days: 1 }, { days: 3 }, { days: 7 }, { days: 21 }];
  const RIGHT_AT_ONCE = 3;
  const AFTER_A_SKIP = 8;
  const LONGEST_DAYS = 21;
  const VERDICTS = ["right", "wrong_unit", "other_dimension", "slip", "coarse", "wrong"];
  const MOST = { number: 1000000, text: 300, verdicts: 8, turns: 12, families: 1000, stored: 2000000 };
  const KEY = /^[a-z]{1,30}\/[a-z0-9_]{1,80}$/;

  function blank() {
    return { kit: KIT, version: VERSION, units: "", count: 0, last: "", topics: [], families: {} };
  }

  function blankRecord() {
    return {
      checks: 0, asked: 0, first: 0, verdicts: [], turns: [], ends: 0, rung: 0, due_day: 0, due_count: 0, day: 0, next: 0
    };
  }

  // ---- Reading what was stored: by this script, by an older or newer one, or by someone with a text editor ----

  function whole(value, most) {
    return Number.isInteger(value) && value > 0 ? Math.min(value, most) : 0;
  }

  function list(value) {
    return Array.isArray(value) ? value : [];
  }

  function isTurn(pair) {
    return Array.isArray(pair) && typeof pair[0] === "string" && pair[0].length <= MOST.text && whole(pair[1], 1) === 1;
  }

  function readRecord(data, count, today) {
    const asked = whole(data.asked, MOST.number);
    return {
      checks: Math.max(asked, whole(data.checks, MOST.number)),
      asked: asked,
      first: whole(data.first, asked),
      verdicts: list(data.verdicts).filter(function (kind) { return VERDICTS.indexOf(kind) >= 0; }).slice(-MOST.verdicts),
      turns: list(data.turns).filter(isTurn).slice(0, MOST.turns).map(function (pair) {
        return [pair[0], whole(pair[1], MOST.number)];
      }),
      ends: whole(data.ends, MOST.number),
      rung: whole(data.rung, GAPS.length - 1),
      due_day: whole(data.due_day, today + LONGEST_DAYS),
      due_count: whole(data.due_count, count + AFTER_A_SKIP),
      day: whole(data.day, today),
      next: whole(data.next, MOST.number)
    };
  }

  /* A sound state, or null where the text is none of ours; whatever does not fit in it is left out or cut down. */
  function read(text, today) {
    let data = null;
    try {
      data = typeof text === "string" && text.length <= MOST.stored ? JSON.parse(text) : null;
    } catch (error) {
      return null;
    }
    if (!data || typeof data !== "object" || data.kit !== KIT || data.version !== VERSION) { return null; }
    const state = blank();
    state.units = data.units === "metric" || data.units === "us" ? data.units : "";
    state.count = whole(data.count, MOST.number);
    state.last = typeof data.last === "string" && KEY.test(data.last) ? data.last : "";
    state.topics = list(data.topics).filter(function (topic) {
      return typeof topic === "string" && /^[a-z]{1,30}$/.test(topic);
    }).slice(0, 100);
    const families = data.families && typeof data.families === "object" ? data.families : {};
    Object.keys(families).slice(0, MOST.families).forEach(function (key) {
      const record = families[key];
      if (KEY.test(key) && record && typeof record === "object") {
        state.families[key] = readRecord(record, state.count, today);
      }
    });
    return state;
  }

  // ---- Changes ----

  function record(state, key) {
    return Object.prototype.hasOwnProperty.call(state.families, key) ? state.families[key] : null;
  }

  function opened(state, key, today) {
    const found = record(state, key) || blankRecord();
    state.families[key] = found;
    found.day = today;
    return found;
  }

  /* An answer was judged. what = { verdict, opening: first answer to this question, unaided, turn: what the judge said
     of the wrong turn, or nothing }. */
  function tried(state, key, what, today) {
    const found = opened(state, key, today);
    found.checks += 1;
    if (VERDICTS.indexOf(what.verdict) >= 0) { found.verdicts = found.verdicts.concat(what.verdict).slice(-MOST.verdicts); }
    if (what.opening) {
      found.asked += 1;
      if (what.verdict === "right" && what.unaided) { found.first += 1; }
    }
    if (what.turn) { met(found, what.turn.slice(0, MOST.text)); }
  }

  function met(found, turn) {
    const known = found.turns.find(function (pair) { return pair[0] === turn; });
    if (known) { known[1] += 1; return; }
    // The oldest makes room.
    found.turns = found.turns.concat([[turn, 1]]).slice(-MOST.turns);
  }

  function putAway(state, found, gap, today) {
    found.due_count = gap.others ? state.count + gap.others : 0;
    found.due_day = today + (gap.days || 1);
  }

  /* A set is decided: missed at its first wrong answer or help, or clean with its last right answer. */
  function ended(state, key, set, clean, today) {
    const before = record(state, key);
    const first = !before || before.ends === 0;
    const due = !before || isDue(state, before, today);
    const found = opened(state, key, today);
    state.count += 1;
    found.ends += 1;
    found.next = set + 1;
    if (clean && !first && !due) {
      // Practised ahead of time: it stays where it is, and does not count as one of the others it waits for.
      if (found.due_count) { found.due_count += 1; }
      return;
    }
    found.rung = !clean ? 0 : first ? RIGHT_AT_ONCE : Math.min(found.rung + 1, GAPS.length - 1);
    putAway(state, found, GAPS[found.rung], today);
  }

  /* A set was left undecided; one that was due or new comes back a little later. */
  function passed(state, key, set, today) {
    const before = record(state, key);
    const due = !before || isDue(state, before, today);
    const found = opened(state, key, today);
    found.next = set + 1;
    if (due) {
      state.count += 1;
      putAway(state, found, { others: AFTER_A_SKIP }, today);
    }
  }

  function isDue(state, found, today) {
    return today >= found.due_day || (found.due_count > 0 && state.count >= found.due_count);
  }

  /* When an exercise comes back: { now, others, days }; `others` is 0 where it waits for days alone. */
  function comesBack(state, found, today) {
    const now = isDue(state, found, today);
    return {
      now: now, others: now || !found.due_count ? 0 : found.due_count - state.count,
      days: now ? 0 : found.due_day - today
    };
  }

  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.progress = {
    blank: blank, read: read, record: record, tried: tried, ended: ended, passed: passed, isDue: isDue,
    comesBack: comesBack
  };
}(typeof globalThis === "object" ? globalThis : this));
