/* A record of practice as data: for the page, for a file to hand in, and for a spreadsheet. No page, no clock, no storage.

   Waterleaf.record.exercises(state, catalogue)            [{ exercise, record }] of what was met, in the order of the course
   Waterleaf.record.topics(state, catalogue, today)        [{ topic, name, met, of, asked, first, due, next_day }]
   Waterleaf.record.json(state, catalogue, who, today)     text of a file; Waterleaf.record.csv(...) likewise
   Waterleaf.record.kept(text, today)                      the state inside such a file, or null */
(function (root) {
  "use strict";

  const FORMAT = "waterleaf practice record";
  const VERSION = 1;
  const LONGEST = 4000000;
  const STATEMENT = "Made by the student's own browser from what it kept on that device. It can be edited, and it does "
    + "not prove who did the work.";
  const WORDS = {
    right: "right", wrong_unit: "wrong unit", other_dimension: "unit of another kind", slip: "wrong turn",
    coarse: "rounded too much", wrong: "not right"
  };

  function date(day) { return day ? new Date(day * 86400000).toISOString().slice(0, 10) : ""; }

  function exercises(state, catalogue) {
    return catalogue.exercises.map(function (exercise) {
      return { exercise: exercise, record: root.Waterleaf.progress.record(state, exercise.key) };
    }).filter(function (one) { return one.record; });
  }

  function topics(state, catalogue, today) {
    const met = exercises(state, catalogue);
    return catalogue.topics.map(function (topic) {
      const of = catalogue.exercises.filter(function (exercise) { return exercise.topic === topic[0]; }).length;
      const row = { topic: topic[0], name: topic[1], met: 0, of: of, asked: 0, first: 0, due: 0, next_day: 0 };
      met.filter(function (one) { return one.exercise.topic === topic[0]; }).forEach(function (one) {
        row.met += 1;
        row.asked += one.record.asked;
        row.first += one.record.first;
        if (root.Waterleaf.progress.isDue(state, one.record, today)) { row.due += 1; }
        row.next_day = row.next_day ? Math.min(row.next_day, one.record.due_day) : one.record.due_day;
      });
      return row;
    });
  }

  function row(one) {
    return {
      exercise: one.exercise.key, title: one.exercise.title, topic: one.exercise.topic,
      questions_answered: one.record.asked, right_first_time: one.record.first, answers_checked: one.record.checks,
      newest_verdicts: one.record.verdicts.map(function (kind) { return WORDS[kind]; }),
      wrong_turns: one.record.turns.map(function (turn) { return { said: turn[0], times: turn[1] }; }),
      last_met: date(one.record.day)
    };
  }

  function json(state, catalogue, who, today) {
    return JSON.stringify({
      format: FORMAT, version: VERSION, statement: STATEMENT, made: date(today), name: who.name, group: who.group,
      exercises: exercises(state, catalogue).map(row), kept: state
    }, null, 2) + "\n";
  }

  /* A cell of a spreadsheet. What starts like a formula gets a mark in front, so that it stays a text. */
  function cell(value) {
    const text = String(value).replace(/\s+/g, " ");
    const safe = /^\s*[=+\-@]/.test(text) ? "'" + text : text;
    return /[",;]/.test(safe) || safe !== text ? '"' + safe.replace(/"/g, '""') + '"' : safe;
  }

  function csv(state, catalogue, who, today) {
    const heads = [
      "record_version", "made", "name", "group", "exercise", "title", "topic", "questions_answered", "right_first_time",
      "answers_checked", "newest_verdicts", "wrong_turns", "last_met", "statement"
    ];
    const lines = exercises(state, catalogue).map(row).map(function (one) {
      const flat = Object.assign({}, one, {
        record_version: VERSION, made: date(today), name: who.name, group: who.group, statement: STATEMENT,
        newest_verdicts: one.newest_verdicts.join("; "),
        wrong_turns: one.wrong_turns.map(function (turn) { return turn.times + " x " + turn.said; }).join(" | ")
      });
      return heads.map(function (head) { return cell(flat[head]); }).join(",");
    });
    // The mark in front tells a spreadsheet that the letters are UTF-8.
    return "\ufeff" + [heads.join(",")].concat(lines).join("\r\n") + "\r\n";
  }

  function kept(text, today) {
    try {
      const data = text.length <= LONGEST ? JSON.parse(text) : null;
      return data && data.format === FORMAT && data.version === VERSION
        ? root.Waterleaf.progress.read(JSON.stringify(data.kept), today) : null;
    } catch (error) {
      return null;
    }
  }

  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.record = {
    exercises: exercises, topics: topics, json: json, csv: csv, kept: kept, date: date, words: WORDS, statement: STATEMENT
  };
}(typeof globalThis === "object" ? globalThis : this));
