// Fuel drawn into tanks: a level in the schematic, the true tilted surface in the elevations.

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

// How a view's axes lie: across, up, and the one that looks at us.
var AXES = { side: [0, 2, 1], front: [1, 2, 0], plan: [0, 1, 2] };

// Part of the view's plane, at a tank's middle, that lies under the surface: a large square.
function wetPlane(svg, tank, down, level) {
  var axes = AXES[svg.dataset.view], far = 20;
  var n = [-down[axes[0]], -down[axes[1]]], depth = -down[axes[2]] * tank.at[axes[2]];
  var size = n[0] * n[0] + n[1] * n[1];
  if (size < 0.02) { return null; }
  var k = (level - depth) / size, p = [n[0] * k, n[1] * k], root = Math.sqrt(size);
  var u = [n[0] / root, n[1] / root], t = [-u[1], u[0]];
  return [[far, 0], [-far, 0], [-far, -2 * far], [far, -2 * far]].map(function (c) {
    return onSheet(svg, p[0] + t[0] * c[0] + u[0] * c[1], p[1] + t[1] * c[0] + u[1] * c[1]);
  });
}

function onSheet(svg, across, up) {
  var data = svg.dataset, perMetre = 1000 / Number(data.scale);
  var x = Number(data.left) + (across - Number(data.low)) * perMetre;
  var y = Number(data.top) + (Number(data.high) - up) * perMetre;
  return x.toFixed(2) + "," + y.toFixed(2);
}

// An elevation's tank with its fuel as effective gravity lays it; without a level, as its share.
function fillSolid(svg, group, tank, down, level, share) {
  var wet = one("polygon.filled", group) || addWet(svg, group);
  var corners = level === null ? null : wetPlane(svg, tank, down, level);
  wet.setAttribute("fill-opacity", corners || share > 0.995 ? 1 : 0.15 + 0.85 * share);
  if (share < 0.002) { wet.setAttribute("points", ""); return; }
  if (!corners || share > 0.998) {
    corners = [[-20, -20], [20, -20], [20, 20], [-20, 20]].map(function (c) {
      return onSheet(svg, tank.at[AXES[svg.dataset.view][0]] + c[0], c[1]);
    });
  }
  wet.setAttribute("points", corners.join(" "));
}

function addWet(svg, group) {
  var outline = one("path", group), id = group.id + "-clip";
  var clip = drawn("clipPath", { id: id }), rim = outline.cloneNode(false);
  clip.appendChild(drawn("path", { d: outline.getAttribute("d") }));
  var wet = drawn("polygon", { "class": "filled", fill: "#b9d3e2", "clip-path": "url(#" + id + ")" });
  rim.setAttribute("fill", "none");
  group.insertBefore(clip, outline.nextSibling);
  group.insertBefore(wet, clip.nextSibling);
  group.insertBefore(rim, wet.nextSibling);
  return wet;
}
