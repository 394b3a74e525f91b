/* One quiet line below the practice links of a lesson: how far this device has come with the topic. */
(function () {
  "use strict";

  function start(place) {
    const memory = Waterleaf.memory, topic = place.getAttribute("data-topic");
    const row = Waterleaf.record.topics(memory.state(), Waterleaf.catalogue, memory.today()).find(function (one) {
      return one.topic === topic;
    });
    if (!row || !row.met) { return; }
    place.prepend(
      "On this device: " + row.met + " of " + row.of + " exercises met, " + row.first + " of " + row.asked
      + " questions right first time, " + (row.due ? row.due + " due now. " : "none due now. ")
    );
  }

  document.addEventListener("DOMContentLoaded", function () {
    document.querySelectorAll(".wl-kept[data-topic]").forEach(start);
  });
}());
