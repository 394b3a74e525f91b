/* The judge of answers given by letters; twin of waterleaf/marking/choices.py. */
(function () {
  "use strict";

  var LETTERS = /^[ \t,;.>()/-]*(?:[A-Fa-f][ \t,;.>()/-]*){1,6}$/;

  function readLetters(text) {
    return text.length <= 60 && LETTERS.test(text) ? text.toUpperCase().match(/[A-F]/g) : [];
  }

  function judgeLetters(text, expected, messages) {
    var order = expected.right.length > 1 ? "_order" : "";
    var letters = readLetters(text);
    if (letters.length !== expected.right.length || new Set(letters).size !== letters.length) {
      return { kind: "unreadable", message: messages["unreadable" + order], echo: "", slip: null };
    }
    var echo = "read as " + letters.join(", ");
    if (letters.join() === expected.right.join()) {
      return { kind: "right", message: messages["right" + order], echo: echo, slip: null };
    }
    if (!order && Object.prototype.hasOwnProperty.call(expected.says, letters[0])) {
      return { kind: "slip", message: expected.says[letters[0]], echo: echo, slip: null };
    }
    return { kind: "wrong", message: messages["wrong" + order], echo: echo, slip: null };
  }

  window.Waterleaf = window.Waterleaf || {};
  window.Waterleaf.judgeLetters = judgeLetters;
  window.Waterleaf.readLetters = readLetters;
}());
