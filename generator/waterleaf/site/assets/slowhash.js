/* A slow hash in plain JavaScript: PBKDF2-HMAC-SHA256 (RFC 8018, FIPS 180-4), 32 bytes.

   Browsers have one of their own, but keep it from pages that come by plain http from another computer, as they do in a
   school's own network. One way for all is simpler to trust. Tests hold it to published vectors and to Python's hashlib. */
(function (root) {
  "use strict";

  // The first 32 bits of the fractional parts of the cube roots of the first 64 primes.
  var K = new Int32Array([
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2
  ]);
  var FIRST = [0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19];
  var BLOCK = 64;
  var schedule = new Int32Array(64);

  /* Takes one block of sixteen words into a state of eight. */
  function compress(state, words) {
    var w = schedule, a = state[0], b = state[1], c = state[2], d = state[3];
    var e = state[4], f = state[5], g = state[6], h = state[7], i, x, y, s0, s1;
    for (i = 0; i < 16; i += 1) { w[i] = words[i]; }
    for (i = 16; i < 64; i += 1) {
      x = w[i - 15];
      y = w[i - 2];
      s0 = (x >>> 7 | x << 25) ^ (x >>> 18 | x << 14) ^ x >>> 3;
      s1 = (y >>> 17 | y << 15) ^ (y >>> 19 | y << 13) ^ y >>> 10;
      w[i] = w[i - 16] + s0 + w[i - 7] + s1 | 0;
    }
    for (i = 0; i < 64; i += 1) {
      s1 = (e >>> 6 | e << 26) ^ (e >>> 11 | e << 21) ^ (e >>> 25 | e << 7);
      x = h + s1 + (e & f ^ ~e & g) + K[i] + w[i] | 0;
      s0 = (a >>> 2 | a << 30) ^ (a >>> 13 | a << 19) ^ (a >>> 22 | a << 10);
      y = s0 + (a & b ^ a & c ^ b & c) | 0;
      h = g; g = f; f = e; e = d + x | 0; d = c; c = b; b = a; a = x + y | 0;
    }
    state[0] = state[0] + a | 0; state[1] = state[1] + b | 0; state[2] = state[2] + c | 0; state[3] = state[3] + d | 0;
    state[4] = state[4] + e | 0; state[5] = state[5] + f | 0; state[6] = state[6] + g | 0; state[7] = state[7] + h | 0;
  }

  function wordsAt(bytes, start) {
    var words = new Int32Array(16);
    for (var i = 0; i < 16; i += 1) {
      words[i] = bytes[start + 4 * i] << 24 | bytes[start + 4 * i + 1] << 16 | bytes[start + 4 * i + 2] << 8
        | bytes[start + 4 * i + 3];
    }
    return words;
  }

  /* The message with its end mark and length, after `before` bytes that a state has taken already. */
  function padded(bytes, before) {
    var size = Math.ceil((bytes.length + 9) / BLOCK) * BLOCK;
    var whole = new Uint8Array(size);
    whole.set(bytes);
    whole[bytes.length] = 0x80;
    new DataView(whole.buffer).setUint32(size - 4, 8 * (before + bytes.length));
    return whole;
  }

  function taken(state, bytes, before) {
    var whole = padded(bytes, before);
    for (var start = 0; start < whole.length; start += BLOCK) { compress(state, wordsAt(whole, start)); }
    return state;
  }

  function bytesOf(state) {
    var found = new Uint8Array(32), view = new DataView(found.buffer);
    for (var i = 0; i < 8; i += 1) { view.setInt32(4 * i, state[i]); }
    return found;
  }

  function sha256(bytes) {
    return bytesOf(taken(Int32Array.from(FIRST), bytes, 0));
  }

  /* The state after the key, mixed with 0x36 or 0x5c, has been taken: the same for every round. */
  function keyed(key, mark) {
    var block = new Uint8Array(BLOCK).fill(mark);
    key.forEach(function (byte, at) { block[at] = byte ^ mark; });
    var state = Int32Array.from(FIRST);
    compress(state, wordsAt(block, 0));
    return state;
  }

  function pbkdf2(secret, salt, rounds) {
    var key = secret.length > BLOCK ? sha256(secret) : secret;
    var inner = keyed(key, 0x36), outer = keyed(key, 0x5c);
    var message = new Uint8Array(salt.length + 4);
    message.set(salt);
    message[salt.length + 3] = 1; // the first block of output, and the only one
    var found = taken(Int32Array.from(outer), bytesOf(taken(Int32Array.from(inner), message, BLOCK)), BLOCK);
    var last = Int32Array.from(found), state = new Int32Array(8), words = new Int32Array(16), i;
    words[8] = 0x80 << 24;
    words[15] = 8 * (BLOCK + 32);
    for (var round = 1; round < rounds; round += 1) {
      words.set(last);
      state.set(inner);
      compress(state, words);
      words.set(state);
      last.set(outer);
      compress(last, words);
      for (i = 0; i < 8; i += 1) { found[i] ^= last[i]; }
    }
    return bytesOf(found);
  }

  root.Waterleaf = root.Waterleaf || {};
  root.Waterleaf.slow = { sha256: sha256, pbkdf2: pbkdf2 };
}(globalThis));
