// The flight moment by moment: a slider, what is in the tanks, what the pumps see.

var FASTER = 40; // seconds of flight in a second of running

function startFlight() {
  var clock = one(".clock"), data = facts.flight;
  if (!clock || !data.flights.length) { return; }
  clock.hidden = false;
  stopRunning();
  var slider = one("input[type=range]", clock), state = { run: 0 };
  clock.state = state;
  solidsOf(bytesOf(one("#insides").textContent.trim())).forEach(function (inside, place) {
    data.tanks[place].inside = inside;
  });
  data.flights.forEach(function (flight, place) { addRun(clock, flight, place); });
  addGauges(clock, data);
  addCursors(data.flights[0]);
  slider.addEventListener("input", function () { stopRunning(); showMoment(); });
  slider.addEventListener("keydown", function (event) {
    var step = { PageUp: 30, PageDown: -30 }[event.key];
    if (!step) { return; }
    slider.value = Number(slider.value) + step;
    showMoment();
    event.preventDefault();
  });
  one(".play", clock).addEventListener("click", toggleRunning);
  chooseRun(0);
}

function addRun(clock, flight, place) {
  var label = made("label"), box = made("input");
  box.type = "radio";
  box.name = "run";
  box.checked = place === 0;
  box.addEventListener("change", function () { chooseRun(place); });
  label.appendChild(box);
  label.appendChild(document.createTextNode(" " + flight.name));
  one(".runs", clock).appendChild(label);
}

function chooseRun(place) {
  var clock = one(".clock"), time = facts.flight.flights[place].time;
  var slider = one("input[type=range]", clock);
  clock.state.run = place;
  slider.max = time[time.length - 1];
  slider.step = slider.max > 240 ? 1 : 0.5;
  slider.value = 0;
  showMoment();
}

function addGauges(clock, data) {
  var room = one(".gauges", clock);
  data.tanks.forEach(function (tank) {
    var gauge = made("div", "", tank.header ? "gauge header" : "gauge"), row = made("span");
    row.appendChild(made("span", tank.name, "name"));
    row.appendChild(made("b"));
    gauge.appendChild(row);
    gauge.appendChild(made("i"));
    room.appendChild(gauge);
  });
  data.pumps.concat(data.flights[0].cg ? ["CG"] : []).forEach(function (name) {
    var gauge = made("div", "", "gauge"), row = made("span");
    row.appendChild(made("span", name, "name"));
    row.appendChild(made("b"));
    gauge.appendChild(row);
    gauge.appendChild(made("span"));
    room.appendChild(gauge);
  });
}

// Place of the last moment at or before a time, and how far on to the next.
function momentAt(time, at) {
  var low = 0, high = time.length - 1;
  while (low < high) {
    var middle = (low + high + 1) >> 1;
    if (time[middle] <= at) { low = middle; } else { high = middle - 1; }
  }
  var next = Math.min(low + 1, time.length - 1), span = time[next] - time[low];
  return { place: low, next: next, part: span > 0 ? (at - time[low]) / span : 0 };
}

function between(rows, moment, column) {
  var a = rows[moment.place][column], b = rows[moment.next][column];
  return a + (b - a) * moment.part;
}

function clockText(seconds) {
  var whole = Math.round(seconds), rest = whole % 60;
  if (whole < 60) { return whole + " s"; }
  return Math.floor(whole / 60) + " min " + (rest < 10 ? "0" : "") + rest + " s";
}

function showMoment() {
  var clock = one(".clock"), data = facts.flight, flight = data.flights[clock.state.run];
  var slider = one("input[type=range]", clock), at = Number(slider.value);
  var moment = momentAt(flight.time, at), gauges = all(".gauge", clock), said = [];
  var way = flight.direction[moment.place], down = flight.directions[way], basins = flight.basins[way];
  data.tanks.forEach(function (tank, place) {
    var volume = between(flight.volume, moment, place), share = volume / tank.capacity;
    tank.fuel = fuelIn(tank.inside, down, basins[place], levelsIn(flight, moment, place));
    fillTank(tank, share, down);
    tellTank(gauges[place], tank, volume, share);
    said.push(tank.name + " " + Math.round(100 * share) + " %");
  });
  data.pumps.forEach(function (pump, place) {
    tellPump(gauges[data.tanks.length + place], flight, moment, place);
  });
  if (flight.cg) { tellBalance(gauges[gauges.length - 1], flight, moment); }
  var phase = flight.phases[flight.phase[moment.place]];
  one(".now", clock).textContent = clockText(at) + ", " + phase;
  slider.setAttribute("aria-valuetext", clockText(at) + ", " + phase + ": " + said.join(", "));
  moveCursors(clock.state.run === 0 ? at : null);
  fillSpace();
}

// Height of the surface in every pocket of a tank; between moments as long as the attitude stays.
function levelsIn(flight, moment, place) {
  var stays = flight.direction[moment.place] === flight.direction[moment.next], levels = [];
  flight.tank.forEach(function (tank, column) {
    if (tank !== place) { return; }
    levels.push(stays ? between(flight.level, moment, column) : flight.level[moment.place][column]);
  });
  return levels;
}

function fillTank(tank, share, down) {
  all(".drawing svg").forEach(function (svg) {
    var groups = all("g[data-part]", svg).filter(function (group) {
      return group.dataset.part === tank.name && !group.classList.contains("label");
    });
    groups.forEach(function (group) {
      var vessel = one("g.fuel", group);
      if (vessel) { fillVessel(vessel, share); }
      else if (svg.dataset.view && /^(tank|header)$/.test(group.getAttribute("class").split(" ")[0])) {
        fillSolid(svg, group, tank.fuel.walls, down);
      }
    });
  });
}

function tellTank(gauge, tank, volume, share) {
  var air = tank.header ? Math.max(0, tank.capacity - volume) : 0;
  var airy = air > 0.03 * tank.capacity;  // filled to 98 %, as usual, is no alarm
  one("b", gauge).textContent = airy
    ? volume.toFixed(0) + " ml, air " + air.toFixed(0) + " ml"
    : volume.toFixed(0) + " ml, " + Math.round(100 * share) + " %";
  gauge.classList.toggle("air", airy);
  one("i", gauge).style.backgroundSize = Math.max(0, Math.min(100, 100 * share)) + "% 100%";
}

function tellPump(gauge, flight, moment, place) {
  var liquid = flight.liquid[moment.place][place];
  var suction = Math.round(10 * flight.suction[moment.place][place]) / 10 + 0; // never -0
  one("b", gauge).textContent = suction.toFixed(1) + " kPa suction";
  gauge.lastChild.textContent = flight.flow[moment.place][place].toFixed(0) + " ml/min, "
    + (liquid > 0.999 ? "no air" : Math.round(100 * (1 - liquid)) + " % air");
  gauge.classList.toggle("air", liquid <= 0.999);
}

function tellBalance(gauge, flight, moment) {
  one("b", gauge).textContent = "x " + flight.cg[moment.place].toFixed(0) + " mm";
  gauge.lastChild.textContent = "fuel as it lies";
}

// A line across the charts at the slider's moment; 16 to 174 mm is the charts' time axis.
function addCursors(flight) {
  all(".chart.timed svg").forEach(function (svg) {
    var curves = one("g.series", svg);
    var top = curves ? curves.dataset.top : 16;
    var line = drawn("line", { y1: top, y2: 79, stroke: "#1d2328", "stroke-width": 0.4, "class": "cursor" });
    svg.appendChild(line);
  });
  addCursors.span = flight.time[flight.time.length - 1];
}

function moveCursors(at) {
  all(".chart .cursor").forEach(function (line) {
    var x = at === null ? -9 : 16 + 158 * Math.min(1, at / addCursors.span);
    line.setAttribute("x1", x.toFixed(2));
    line.setAttribute("x2", x.toFixed(2));
  });
}

var running = 0;

function toggleRunning() {
  if (running) { stopRunning(); return; }
  var slider = one(".clock input[type=range]"), before = null;
  if (Number(slider.value) >= Number(slider.max)) { slider.value = 0; }
  setPlay(true);
  function step(now) {
    if (before !== null && now - before < 40) { running = requestAnimationFrame(step); return; }
    var at = Number(slider.value) + (before === null ? 0 : FASTER * Math.min(now - before, 200) / 1000);
    before = now;
    slider.step = "any";
    slider.value = at;
    showMoment();
    if (at >= Number(slider.max)) { stopRunning(); return; }
    running = requestAnimationFrame(step);
  }
  running = requestAnimationFrame(step);
}

function stopRunning() {
  if (running) { cancelAnimationFrame(running); }
  running = 0;
  setPlay(false);
}

function setPlay(on) {
  var button = one(".clock .play");
  if (!button) { return; }
  button.textContent = on ? "Stop" : "Run";
  button.setAttribute("aria-pressed", on ? "true" : "false");
}
