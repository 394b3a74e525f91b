/* Which exercise comes next in a round. The same state, exercises and day always give the same answer.

   Waterleaf.choose(state, exercises, today) -> { exercise, why } or null where there is none to choose from
   exercises: [{ key, topic, level }] in the order of the course; why: "due", "new" or "early"

   Due ones come first, the least settled before the others. Then new ones: from the topic met least, the easiest. When
   all are waiting, the one that is due soonest. The one shown last is only repeated where there is no other. */
(function (root) {
  "use strict";

  function before(left, right) {
    for (let at = 0; at < left.length; at += 1) {
      if (left[at] !== right[at]) { return left[at] - right[at]; }
    }
    return 0;
  }

  /* The exercise with the smallest rank; of equal ones the first. */
  function least(exercises, rank) {
    return exercises.reduce(function (best, one) {
      return best === null || before(rank(one), rank(best)) < 0 ? one : best;
    }, null);
  }

  function choose(state, exercises, today) {
    const progress = root.Waterleaf.progress;
    const others = exercises.filter(function (one) { return one.key !== state.last; });
    const pool = others.length ? others : exercises;
    function kept(one) { return progress.record(state, one.key); }

    const due = pool.filter(function (one) { return kept(one) && progress.isDue(state, kept(one), today); });
    if (due.length) {
      return { exercise: least(due, function (one) { return [kept(one).rung, kept(one).due_day]; }), why: "due" };
    }
    const fresh = pool.filter(function (one) { return !kept(one); });
    if (fresh.length) {
      const met = {};
      exercises.filter(kept).forEach(function (one) { met[one.topic] = (met[one.topic] || 0) + 1; });
      return { exercise: least(fresh, function (one) { return [met[one.topic] || 0, one.level]; }), why: "new" };
    }
    const soonest = least(pool, function (one) { return [kept(one).due_day, kept(one).due_count]; });
    return soonest && { exercise: soonest, why: "early" };
  }

  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.choose = choose;
}(typeof globalThis === "object" ? globalThis : this));
