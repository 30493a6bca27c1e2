// The aircraft in space: turned, cut, hidden by kind and picked; without WebGL its tab is left out.

var SHADERS = [
  "#version 300 es\nuniform mat4 view; uniform vec4 cut; uniform vec3 scales; in vec3 at; out vec3 seen; out float beyond;" +
  "void main() { beyond = dot(cut.xyz, at) - cut.w; gl_Position = view * vec4(at, 1.0);" +
  "seen = gl_Position.xyz / scales; }",
  "#version 300 es\nprecision highp float; uniform vec4 paint; uniform float plain;" +
  "in vec3 seen; in float beyond; out vec4 shown;" +
  "void main() { if (beyond > 0.0) { discard; }" +
  "vec3 way = normalize(cross(dFdx(seen), dFdy(seen)));" +
  "float light = mix(0.5 + 0.5 * abs(dot(way, vec3(0.27, 0.53, 0.8))), 1.0, plain);" +
  "shown = vec4(paint.rgb * light, paint.a); }"
];
var BEHIND = { zones: true, formers: true, airframe: true }; // picked only where nothing else is
var LIT = [0.69, 0, 0.13];
var space = { lit: [], yaw: -0.6, pitch: 0.5, zoom: 1, aside: [0, 0], hidden: {}, axis: 1, cut: 1 };

function startSpace() {
  var figure = one("#drawing-space"), probe = document.createElement("canvas");
  space.gl = null;
  if (!figure) { return; }
  if (!window.WebGL2RenderingContext || !probe.getContext("webgl2")) {
    one("#tab-space").remove();
    figure.remove();
    return;
  }
}

// Reads the model and sets its controls up; done when the tab is opened first.
function openSpace() {
  if (space.gl) { drawSpace(); return; }
  var canvas = one("#drawing-space canvas");
  space.gl = canvas.getContext("webgl2", { preserveDrawingBuffer: true, stencil: true });
  space.solids = solidsOf(bytesOf(one("#solid").textContent.trim()));
  space.program = programOf(space.gl);
  space.solids.forEach(upload);
  addFuel();
  bounds();
  listSolids();
  listKinds();
  startHand(canvas);
  one(".cut-axis").addEventListener("change", readCut);
  one(".cut-at").addEventListener("input", readCut);
  fillSpace();
  readCut();
}

// The fuel of each tank, picked as its tank.
function addFuel() {
  facts.flight.tanks.forEach(function (tank) {
    var shell = space.solids.find(function (solid) { return solid.kind === "tanks" && solid.name === tank.name; });
    var fuel = Object.assign({}, tank.inside, { number: shell.number, tank: tank, faces: [] });
    upload(fuel);
    space.solids.push(fuel);
  });
}

// The fuel as it lies now: its wet walls, then its surfaces, each as a fan over its edges.
function fillSpace() {
  if (!space.gl) { return; }
  space.solids.filter(function (solid) { return solid.tank; }).forEach(function (solid) {
    var fuel = solid.tank.fuel, corners = fuel.walls.slice();
    solid.parts = [corners.length / 3];
    Object.values(fuel.rims).forEach(function (rim) {
      for (var k = 0; k < rim.length; k += 6) {
        corners.push(rim[0], rim[1], rim[2]);
        corners.push.apply(corners, rim.slice(k, k + 6));
      }
      solid.parts.push(corners.length / 3);
    });
    space.gl.bindBuffer(space.gl.ARRAY_BUFFER, solid.buffer);
    space.gl.bufferData(space.gl.ARRAY_BUFFER, new Float32Array(corners), space.gl.DYNAMIC_DRAW);
  });
  drawSpace();
}

function bytesOf(text) {
  var raw = atob(text), bytes = new Uint8Array(raw.length);
  for (var k = 0; k < raw.length; k += 1) { bytes[k] = raw.charCodeAt(k); }
  return bytes.buffer;
}

// Solids of a binary glTF as this program writes it: one surface a node, in groups below the root.
function solidsOf(buffer) {
  var long = new DataView(buffer).getUint32(12, true);
  var file = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 20, long)));
  function values(number, kinds) {
    var accessor = file.accessors[number], start = 28 + long;
    start += file.bufferViews[accessor.bufferView].byteOffset;
    return new kinds[accessor.componentType](buffer, start, accessor.count * kinds[accessor.type]);
  }
  var solids = [];
  file.nodes[0].children.forEach(function (group) {
    file.nodes[group].children.forEach(function (number) {
      var node = file.nodes[number], surface = file.meshes[node.mesh].primitives[0];
      var paint = file.materials[surface.material].pbrMetallicRoughness.baseColorFactor;
      solids.push({
        number: solids.length + 1, kind: file.nodes[group].name, name: node.name, words: node.extras.words,
        row: node.extras.row, low: file.accessors[surface.attributes.POSITION].min,
        high: file.accessors[surface.attributes.POSITION].max,
        paint: paint.map(function (x, k) { return k < 3 ? Math.pow(x, 1 / 2.2) : x; }),
        points: values(surface.attributes.POSITION, { 5126: Float32Array, VEC3: 3 }),
        faces: values(surface.indices, { 5123: Uint16Array, 5125: Uint32Array, SCALAR: 1 })
      });
    });
  });
  return solids;
}

function programOf(gl) {
  var program = gl.createProgram();
  [gl.VERTEX_SHADER, gl.FRAGMENT_SHADER].forEach(function (kind, k) {
    var shader = gl.createShader(kind);
    gl.shaderSource(shader, SHADERS[k]);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  });
  gl.linkProgram(program);
  gl.useProgram(program);
  return program;
}

function upload(solid) {
  var gl = space.gl, at = gl.getAttribLocation(space.program, "at");
  solid.array = gl.createVertexArray();
  gl.bindVertexArray(solid.array);
  solid.buffer = gl.createBuffer();
  gl.bindBuffer(gl.ARRAY_BUFFER, solid.buffer);
  gl.bufferData(gl.ARRAY_BUFFER, solid.points, gl.STATIC_DRAW);
  gl.enableVertexAttribArray(at);
  gl.vertexAttribPointer(at, 3, gl.FLOAT, false, 0, 0);
  if (!solid.faces.length) { return; }
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, solid.faces, gl.STATIC_DRAW);
  solid.form = solid.faces.BYTES_PER_ELEMENT === 2 ? gl.UNSIGNED_SHORT : gl.UNSIGNED_INT;
}

// The box round what is built; zones and the airframe reach far beyond it.
function bounds() {
  var built = space.solids.filter(function (solid) { return solid.kind !== "zones" && solid.kind !== "airframe"; });
  space.low = [0, 1, 2].map(function (k) {
    return Math.min.apply(null, built.map(function (solid) { return solid.low[k]; }));
  });
  space.high = [0, 1, 2].map(function (k) {
    return Math.max.apply(null, built.map(function (solid) { return solid.high[k]; }));
  });
}

function listSolids() {
  var list = one(".solids");
  list.textContent = "";
  list.append(new Option("none", ""));
  space.solids.filter(function (solid) { return !solid.tank; }).forEach(function (solid) {
    list.append(new Option(solid.name + " (" + solid.words + ")", solid.name));
  });
  list.onchange = function () { pick(list.value); };
  list.onkeydown = function (event) {
    if (event.key === "Enter") { toFirstFinding(list.value); }
  };
}

function listKinds() {
  var room = one(".kinds");
  all("label", room).forEach(function (label) { label.remove(); });
  Array.from(new Set(space.solids.map(function (solid) { return solid.kind; }))).forEach(function (kind) {
    var label = made("label"), box = made("input");
    box.type = "checkbox";
    box.checked = !space.hidden[kind];
    box.addEventListener("change", function () { space.hidden[kind] = !box.checked; drawSpace(); });
    label.append(box, " " + kind);
    room.append(label);
  });
}

function readCut() {
  space.axis = Number(one(".cut-axis").value);
  space.cut = Number(one(".cut-at").value);
  drawSpace();
}

// Turns by dragging or arrow keys, moves with shift, zooms by wheel or plus and minus.
function startHand(canvas) {
  var held = null, moved = 0;
  canvas.addEventListener("pointerdown", function (event) {
    held = [event.clientX, event.clientY];
    moved = 0;
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", function (event) {
    if (!held) { return; }
    var right = event.clientX - held[0], down = event.clientY - held[1];
    held = [event.clientX, event.clientY];
    moved += Math.abs(right) + Math.abs(down);
    turn(right / 150, down / 150, event.shiftKey);
  });
  canvas.addEventListener("pointerup", function (event) {
    if (held && moved < 4) { pick(solidAt(event)); }
    held = null;
  });
  canvas.addEventListener("dblclick", function (event) { toFirstFinding(solidAt(event)); });
  canvas.addEventListener("wheel", function (event) {
    enlargeSpace(event.deltaY < 0 ? 1.1 : 1 / 1.1);
    event.preventDefault();
  }, { passive: false });
  one("#drawing-space .paper").addEventListener("keydown", function (event) {
    var ways = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] };
    var sizes = { "+": 1.2, "=": 1.2, "-": 1 / 1.2 };
    if (ways[event.key]) { turn(ways[event.key][0], ways[event.key][1], event.shiftKey); }
    else if (sizes[event.key]) { enlargeSpace(sizes[event.key]); }
    else if (event.key === "Escape") { pick(""); }
    else { return; }
    event.preventDefault();
  });
}

function turn(right, down, move) {
  if (move) {
    space.aside = [space.aside[0] + right / space.zoom, space.aside[1] - down / space.zoom];
  } else {
    space.yaw += right;
    space.pitch = Math.max(-1.57, Math.min(1.57, space.pitch + down));
  }
  drawSpace();
}

function enlargeSpace(factor) {
  space.zoom = Math.max(0.3, Math.min(30, space.zoom * factor));
  drawSpace();
}

// Lights a solid and says what it is; an empty name ends it.
function pick(name) {
  var solid = space.solids.find(function (one) { return one.name === name; });
  point(name ? [name] : [], Boolean(name));
  one(".solids").value = name;
  if (!solid) { tell(""); return; }
  var numbers = findingsOf(name).map(function (finding) { return finding.dataset.finding; });
  var noted = numbers.length ? "; findings " + numbers.join(", ") : "";
  tell(name + ": " + solid.words + ", line " + solid.row + " of the file" + noted);
}

function lightSpace(names) {
  space.lit = names;
  if (space.gl) { drawSpace(); }
}

// A view without perspective that the box round the aircraft fits from side to side: yaw about z,
// then pitch about the axis to the right.
function lookAt(canvas) {
  var c = Math.cos(space.yaw), s = Math.sin(space.yaw);
  var p = Math.cos(space.pitch), q = Math.sin(space.pitch);
  var rows = [[c, -s, 0], [s * q, c * q, p], [s * p, c * p, -q]]; // right, up, away
  var middle = space.low.map(function (x, k) { return (x + space.high[k]) / 2; });
  var half = Math.hypot.apply(null, space.high.map(function (x, k) { return x - middle[k]; })) || 1;
  var size = space.zoom / half;
  var scales = [size, size * canvas.width / canvas.height, 0.02 / half];
  var matrix = new Float32Array(16);
  rows.forEach(function (row, k) {
    var shift = k < 2 ? space.aside[k] * half : 0;
    row.forEach(function (x, m) { matrix[4 * m + k] = x * scales[k]; shift -= x * middle[m]; });
    matrix[12 + k] = shift * scales[k];
  });
  matrix[15] = 1;
  return { matrix: matrix, scales: scales };
}

function drawSpace(picking) {
  var gl = space.gl, canvas = gl.canvas, dots = window.devicePixelRatio || 1;
  canvas.width = canvas.clientWidth * dots || 300;
  canvas.height = canvas.clientHeight * dots || 150;
  gl.viewport(0, 0, canvas.width, canvas.height);
  gl.clearColor(0, 0, 0, 0);
  gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
  gl.enable(gl.DEPTH_TEST);
  gl[picking ? "disable" : "enable"](gl.BLEND);
  gl.blendFuncSeparate(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA, gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
  var view = lookAt(canvas), cut = [0, 0, 0, 1], low = space.low[space.axis];
  if (space.cut < 1) {
    cut[space.axis] = 1;
    cut[3] = low + space.cut * (space.high[space.axis] - low);
  }
  gl.uniformMatrix4fv(uniform("view"), false, view.matrix);
  gl.uniform3fv(uniform("scales"), view.scales);
  gl.uniform4fv(uniform("cut"), cut);
  gl.uniform1f(uniform("plain"), picking ? 1 : 0);
  space.solids.filter(function (solid) { return !space.hidden[solid.kind]; })
    .sort(function (a, b) { return order(a, picking) - order(b, picking); })
    .forEach(function (solid) { drawSolid(solid, picking); });
  gl.depthMask(true);
}

function uniform(name) {
  return space.gl.getUniformLocation(space.program, name);
}

function drawSolid(solid, picking) {
  var gl = space.gl, paint = solid.paint.slice(), number = solid.number;
  var chosen = space.lit.indexOf(solid.name) >= 0;
  if (picking) { paint = [(number & 255) / 255, (number >> 8) / 255, 0, 1]; }
  else if (chosen && !solid.tank) { paint = LIT.concat(Math.max(0.5, paint[3])); }
  else if (space.lit.length) { paint[3] *= 0.35; }
  gl.depthMask(picking ? !BEHIND[solid.kind] : paint[3] > 0.8);
  gl.uniform4fv(uniform("paint"), paint);
  gl.bindVertexArray(solid.array);
  if (solid.tank) { drawFuel(gl, solid.parts); return; }
  gl.drawElements(gl.TRIANGLES, solid.faces.length, solid.form, 0);
}

// Walls, then each surface: the fan over its edges is drawn where it covers a place an odd number of times.
function drawFuel(gl, parts) {
  gl.drawArrays(gl.TRIANGLES, 0, parts[0]);
  gl.enable(gl.STENCIL_TEST);
  for (var k = 1; k < parts.length; k += 1) {
    [true, false].forEach(function (counting) {
      gl.colorMask(!counting, !counting, !counting, !counting);
      gl.depthFunc(counting ? gl.ALWAYS : gl.LESS);
      gl.depthMask(!counting);
      gl.stencilFunc(counting ? gl.ALWAYS : gl.EQUAL, 1, 1);
      gl.stencilOp.apply(gl, counting ? [gl.KEEP, gl.KEEP, gl.INVERT] : [gl.ZERO, gl.ZERO, gl.ZERO]);
      gl.drawArrays(gl.TRIANGLES, parts[k - 1], parts[k] - parts[k - 1]);
    });
  }
  gl.disable(gl.STENCIL_TEST);
}

// What is seen through is drawn after what is not; to pick, what stands behind comes first.
function order(solid, picking) {
  return picking ? (BEHIND[solid.kind] ? 0 : 1) : (solid.paint[3] < 1 ? 1 : 0);
}

// Name of the solid under the pointer, read from a drawing whose colours are numbers.
function solidAt(event) {
  var gl = space.gl, canvas = gl.canvas, room = canvas.getBoundingClientRect();
  var right = (event.clientX - room.left) * canvas.width / room.width;
  var up = (room.bottom - event.clientY) * canvas.height / room.height;
  var pixel = new Uint8Array(4);
  drawSpace(true);
  gl.readPixels(right, up, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
  drawSpace();
  var solid = space.solids[pixel[0] + 256 * pixel[1] - 1]; // 0 is nothing
  return solid ? solid.name : "";
}
