// Fuel drawn into tanks: a level in the schematic, as it lies in the elevations and in space.

var DISH = 2; // height of the schematic's dished ends [mm]

// The schematic's tank with so much of it full.
function fillVessel(group, share) {
  var box = group.dataset.box.split(" ").map(Number);
  var foot = box[3] - DISH, top = box[1] + DISH;
  var y = foot + DISH * 0.7 - Math.max(0, Math.min(1, share)) * (foot - top + DISH * 0.7);
  var fuel = one("path.filled", group);
  if (!fuel) {
    all("*", group).forEach(function (child) { child.setAttribute("visibility", "hidden"); });
    fuel = drawn("path", { "class": "filled", fill: "#b9d3e2", stroke: "#1d2328", "stroke-width": 0.25 });
    group.appendChild(fuel);
  }
  var low = Math.max(y, foot), d = "M" + box[0] + " " + Math.min(y, foot) + "H" + box[2];
  d += "V" + foot + "C" + box[2] + " " + box[3] + " " + box[0] + " " + box[3] + " " + box[0] + " " + foot + "Z";
  fuel.setAttribute("d", share > 0.002 ? d : "");
  return low;
}

// How a view's axes lie: across and up; the third looks at us.
var AXES = { side: [0, 2], front: [1, 2], plan: [0, 1] };

// Fuel as it lies in a tank: triangles of its wet walls, and edges of its surfaces by their level.
// Each face is cut at the level of the pocket it begins in.
function fuelIn(inside, down, basins, levels) {
  var points = inside.points, faces = inside.faces, walls = [], rims = {};
  for (var f = 0; f < faces.length; f += 3) {
    var level = levels[basins ? basins.charCodeAt(f / 3) - 48 : 0], wet = [], out = [];
    for (var k = 0; k < 3; k += 1) {
      var a = cornerOf(points, faces[f + k], down), b = cornerOf(points, faces[f + (k + 1) % 3], down);
      if (a[3] < level) { wet.push(a); }
      if (a[3] < level !== b[3] < level) {
        var at = onSurface(a, b, level);
        wet.push(at);
        out.push(at);
      }
    }
    for (var m = 2; m < wet.length; m += 1) { add(walls, [wet[0], wet[m - 1], wet[m]]); }
    if (out.length) { add(rims[level] = rims[level] || [], out); }
  }
  return { walls: walls, rims: rims };
}

function cornerOf(points, number, down) {
  var x = points[3 * number], y = points[3 * number + 1], z = points[3 * number + 2];
  return [x, y, z, -(x * down[0] + y * down[1] + z * down[2])];
}

function onSurface(a, b, level) {
  var part = (level - a[3]) / (b[3] - a[3]);
  return [0, 1, 2].map(function (k) { return a[k] + part * (b[k] - a[k]); });
}

function add(list, corners) {
  corners.forEach(function (at) { list.push(at[0], at[1], at[2]); });
}

function onSheet(svg, across, up) {
  var data = svg.dataset, perMetre = 1000 / Number(data.scale);
  var x = Number(data.left) + (across - Number(data.low)) * perMetre;
  var y = Number(data.top) + (Number(data.high) - up) * perMetre;
  return x.toFixed(2) + " " + y.toFixed(2);
}

// Shadow of fuel in a view. The walls that face the way its surface does not are as wide as all of it.
function shadowOf(svg, walls, down) {
  var axes = AXES[svg.dataset.view], third = 3 - axes[0] - axes[1], d = "";
  var side = (third === 1 ? -1 : 1) * down[third] < 0 ? -1 : 1;
  for (var k = 0; k < walls.length; k += 9) {
    var a = [walls[k + axes[0]], walls[k + axes[1]]], b = [walls[k + 3 + axes[0]], walls[k + 3 + axes[1]]];
    var c = [walls[k + 6 + axes[0]], walls[k + 6 + axes[1]]];
    var turn = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
    if (turn * side <= 0) { continue; }
    d += "M" + onSheet(svg, a[0], a[1]) + "L" + onSheet(svg, b[0], b[1]) + "L" + onSheet(svg, c[0], c[1]) + "Z";
  }
  return d;
}

// An elevation's tank with its fuel as effective gravity lays it.
function fillSolid(svg, group, walls, down) {
  var wet = one("path.filled", group) || addWet(group);
  wet.setAttribute("d", shadowOf(svg, walls, down));
}

function addWet(group) {
  var outline = one("path", group), rim = outline.cloneNode(false);
  var wet = drawn("path", { "class": "filled", fill: "#b9d3e2", stroke: "#b9d3e2", "stroke-width": 0.1 });
  rim.setAttribute("fill", "none");
  group.insertBefore(wet, outline.nextSibling);
  group.insertBefore(rim, wet.nextSibling);
  return wet;
}
