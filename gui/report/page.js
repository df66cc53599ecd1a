"use strict";
// Tables sort by a click on a head: numbers as numbers, a dash last.
(function () {
  function key(cell) {
    var text = cell.innerText.split("\n")[0].replace("\u2212", "-").replace("\u2265", "").replace("+", "").trim();
    if (text === "" || text === "\u2013") return null;
    var value = Number(text.replace(/\s*(mm|%|°C|K|W|kg)$/, ""));
    return isNaN(value) ? text.toLowerCase() : value;
  }
  function compare(a, b) {
    if (a === b) return 0;
    if (a === null) return 1;
    if (b === null) return -1;
    if (typeof a === typeof b) return a < b ? -1 : 1;
    return typeof a === "number" ? -1 : 1;
  }
  document.querySelectorAll("table.sorts").forEach(function (table) {
    var heads = table.querySelectorAll("th"), body = table.tBodies[0];
    heads.forEach(function (head, column) {
      head.tabIndex = 0;
      function sort() {
        var down = head.getAttribute("aria-sort") === "ascending";
        heads.forEach(function (h) { h.removeAttribute("aria-sort"); });
        head.setAttribute("aria-sort", down ? "descending" : "ascending");
        var rows = Array.from(body.rows).map(function (row, i) { return { row: row, i: i, key: key(row.cells[column]) }; });
        rows.sort(function (a, b) {
          var c = compare(a.key, b.key);
          if (down && a.key !== null && b.key !== null) c = -c;
          return c || a.i - b.i;
        });
        rows.forEach(function (r) { body.appendChild(r.row); });
      }
      head.addEventListener("click", sort);
      head.addEventListener("keydown", function (e) { if (e.key === "Enter") sort(); });
    });
  });
})();

// The scene: facets in flat light, turned by hand.
(function () {
  var data = document.getElementById("scene-data");
  if (!data) return;
  var scene = JSON.parse(data.textContent), canvas = document.getElementById("gl"), says = document.getElementById("says");
  var gl = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: true });
  if (!gl) { says.textContent = "This browser shows no 3-D view; the pictures below stand for it."; return; }
  function bytes(text) {
    var raw = atob(text), out = new Uint8Array(raw.length);
    for (var i = 0; i < raw.length; i++) out[i] = raw.charCodeAt(i);
    return out.buffer;
  }
  function shader(kind, text) {
    var s = gl.createShader(kind);
    gl.shaderSource(s, text);
    gl.compileShader(s);
    if (!gl.getShaderParameter(s, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(s));
    return s;
  }
  var program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER, "#version 300 es\nin vec3 at;uniform mat4 view;uniform vec3 low,size;out vec3 place;void main(){place=low+at*size;gl_Position=view*vec4(place,1.);}"));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER, "#version 300 es\nprecision highp float;in vec3 place;uniform vec4 tint;uniform vec3 eye;uniform bool flat_;out vec4 colour;void main(){if(flat_){colour=tint;return;}vec3 n=normalize(cross(dFdx(place),dFdy(place)));float l=.45+.55*abs(dot(n,normalize(eye)));colour=vec4(tint.rgb*l,1.)*tint.a;}"));
  gl.linkProgram(program);
  gl.useProgram(program);
  var u = {};
  ["view", "low", "size", "tint", "eye", "flat_"].forEach(function (n) { u[n] = gl.getUniformLocation(program, n); });
  var size = scene.step.map(function (s) { return s * 65535; });
  var middle = scene.low.map(function (l, k) { return l + size[k] / 2; });
  var reach = Math.hypot(size[0], size[1], size[2]) / 2;
  gl.uniform3fv(u.low, scene.low);
  gl.uniform3fv(u.size, size);
  scene.parts.forEach(function (p) {
    p.vao = gl.createVertexArray();
    gl.bindVertexArray(p.vao);
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ARRAY_BUFFER, bytes(p.corners), gl.STATIC_DRAW);
    var at = gl.getAttribLocation(program, "at");
    gl.enableVertexAttribArray(at);
    gl.vertexAttribPointer(at, 3, gl.UNSIGNED_SHORT, true, 0, 0);
    var faces = bytes(p.faces);
    p.count = faces.byteLength / 4;
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, faces, gl.STATIC_DRAW);
    p.corners = p.faces = null;
  });
  var home = { turn: 0.7, rise: 0.45, scale: reach * 0.8, at: middle.slice() }, cam, mode = "roleColour", chosen = -1;
  function goHome() { cam = { turn: home.turn, rise: home.rise, scale: home.scale, at: home.at.slice() }; }
  goHome();
  function axes() {
    var ct = Math.cos(cam.turn), st = Math.sin(cam.turn), cr = Math.cos(cam.rise), sr = Math.sin(cam.rise);
    return { right: [-st, ct, 0], up: [-ct * sr, -st * sr, cr], back: [ct * cr, st * cr, sr] };
  }
  function dot(a, b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
  function draw(picking) {
    var w = canvas.clientWidth * devicePixelRatio | 0, h = canvas.clientHeight * devicePixelRatio | 0;
    if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
    gl.viewport(0, 0, w, h);
    var a = axes(), sy = 1 / cam.scale, sx = sy * h / w, sz = 1 / (4 * reach);
    gl.uniformMatrix4fv(u.view, false, [
      a.right[0] * sx, a.up[0] * sy, -a.back[0] * sz, 0, a.right[1] * sx, a.up[1] * sy, -a.back[1] * sz, 0,
      a.right[2] * sx, a.up[2] * sy, -a.back[2] * sz, 0, -dot(a.right, cam.at) * sx, -dot(a.up, cam.at) * sy, dot(a.back, cam.at) * sz, 1]);
    gl.uniform3fv(u.eye, a.back);
    gl.uniform1i(u.flat_, picking ? 1 : 0);
    gl.clearColor(picking ? 0 : 0.957, picking ? 0 : 0.965, picking ? 0 : 0.965, picking ? 0 : 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.disable(gl.BLEND);
    scene.parts.forEach(function (p, i) { if (!p.ghost) one(p, i, picking, 1); });
    if (picking) return;
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    scene.parts.forEach(function (p, i) { if (p.ghost) one(p, i, picking, 0.16); });
    gl.depthMask(true);
  }
  function one(p, i, picking, opacity) {
    var c = p[mode];
    if (picking) gl.uniform4f(u.tint, ((i + 1) & 255) / 255, ((i + 1) >> 8) / 255, 0, 1);
    else if (i === chosen) gl.uniform4f(u.tint, 0, 0.447, 0.698, 1);
    else gl.uniform4f(u.tint, c[0] / 255, c[1] / 255, c[2] / 255, opacity);
    gl.bindVertexArray(p.vao);
    gl.drawElements(gl.TRIANGLES, p.count, gl.UNSIGNED_INT, 0);
  }
  function pick(x, y) {
    draw(true);
    var px = new Uint8Array(4);
    gl.readPixels(x * devicePixelRatio | 0, canvas.height - 1 - (y * devicePixelRatio | 0), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, px);
    chosen = px[0] + 256 * px[1] - 1;
    tell();
    draw(false);
  }
  // The key says what the colours of the mode mean.
  function explain() {
    var key = document.getElementById("key"), seen = {};
    key.textContent = "";
    function add(kind, text) {
      var e = document.createElement(kind);
      e.textContent = text || "";
      key.appendChild(e);
      return e;
    }
    if (mode === "heatColour") {
      add("b", "Nominal temperature, " + scene.heat);
      if (scene.scale.length > 1) {
        add("i").style.background = "linear-gradient(90deg," + scene.scale.map(function (s) { return "rgb(" + s.colour + ")"; }).join() + ")";
        add("span", scene.scale[0].degC + " °C to " + scene.scale[scene.scale.length - 1].degC + " °C; grey: not computed");
      }
      return;
    }
    scene.parts.forEach(function (p) {
      var word = mode === "roleColour" ? p.role : p.verdict || "not judged";
      if (seen[word]) return;
      seen[word] = true;
      var e = add("span", word);
      e.style.borderColor = "rgb(" + p[mode] + ")";
      e.className = "of";
    });
  }
  function tell() {
    var p = scene.parts[chosen];
    says.textContent = p ? p.name + ", " + p.role + (p.verdict ? ": " + p.verdict : "") + (p.degC ? "; " + p.degC + " °C nominal, " + scene.heat : "") : "";
  }
  var from = null, gone = 0;
  canvas.addEventListener("pointerdown", function (e) { from = [e.clientX, e.clientY]; gone = 0; canvas.setPointerCapture(e.pointerId); });
  canvas.addEventListener("pointermove", function (e) {
    if (!from) return;
    var dx = e.clientX - from[0], dy = e.clientY - from[1];
    from = [e.clientX, e.clientY];
    gone += Math.abs(dx) + Math.abs(dy);
    if (e.shiftKey || e.buttons === 4) {
      var a = axes(), mm = 2 * cam.scale / canvas.clientHeight;
      for (var k = 0; k < 3; k++) cam.at[k] += (-dx * a.right[k] + dy * a.up[k]) * mm;
    } else {
      cam.turn -= dx * 0.008;
      cam.rise = Math.max(-1.55, Math.min(1.55, cam.rise + dy * 0.008));
    }
    draw(false);
  });
  canvas.addEventListener("pointerup", function (e) {
    from = null;
    var box = canvas.getBoundingClientRect();
    if (gone < 4) pick(e.clientX - box.left, e.clientY - box.top);
  });
  canvas.addEventListener("wheel", function (e) { e.preventDefault(); cam.scale *= Math.exp(e.deltaY * 0.001); draw(false); }, { passive: false });
  canvas.addEventListener("dblclick", function () { goHome(); draw(false); });
  var bar = document.getElementById("bar"), modes = [["roleColour", "Roles"], ["verdictColour", "Verdicts"]];
  if (scene.heat) modes.push(["heatColour", "Heat"]);
  modes.forEach(function (m) {
    var b = document.createElement("button");
    b.textContent = m[1];
    b.setAttribute("aria-pressed", m[0] === mode);
    b.addEventListener("click", function () {
      mode = m[0];
      Array.from(bar.children).forEach(function (o) { o.setAttribute("aria-pressed", o === b); });
      explain();
      draw(false);
    });
    bar.appendChild(b);
  });
  explain();
  addEventListener("resize", function () { draw(false); });
  draw(false);
})();
