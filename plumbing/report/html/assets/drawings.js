// One drawing at a time behind tabs; parts that can be pointed at, by mouse or arrow keys.

var SIZES = [1, 1.4, 2, 2.8, 4];

function startTabs() {
  all("[role=tab]").forEach(function (tab, place, tabs) {
    tab.addEventListener("click", function () { showDrawing(tab.id.slice(4)); });
    tab.addEventListener("keydown", function (event) {
      var step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!step) { return; }
      var next = tabs[(place + step + tabs.length) % tabs.length];
      showDrawing(next.id.slice(4));
      next.focus();
      event.preventDefault();
    });
  });
  all(".drawing").forEach(function (figure) {
    figure.setAttribute("role", "tabpanel");
    figure.setAttribute("aria-labelledby", "tab-" + figure.dataset.key);
  });
  showDrawing(startTabs.last || "schematic");
  all(".sizes button").forEach(function (button) {
    button.addEventListener("click", function () {
      var step = Number(button.dataset.step);
      if (startTabs.last === "space") { enlargeSpace(Math.pow(1.2, step)); } else { enlarge(step); }
    });
  });
}

// Drawings in steps from as wide as their place to four times that; what is wider scrolls.
function enlarge(step) {
  enlarge.now = Math.max(0, Math.min(SIZES.length - 1, enlarge.now + step));
  all(".drawing svg").forEach(function (svg) {
    svg.style.width = 100 * SIZES[enlarge.now] + "%";
    svg.style.maxHeight = enlarge.now ? "none" : "";
  });
  all(".sizes button").forEach(function (button) {
    var next = enlarge.now + Number(button.dataset.step);
    button.disabled = startTabs.last !== "space" && (next < 0 || next >= SIZES.length);
  });
}
enlarge.now = 0;

function showDrawing(key) {
  key = document.getElementById("drawing-" + key) ? key : "schematic";
  startTabs.last = key;
  all(".drawing").forEach(function (figure) {
    figure.classList.toggle("shown", figure.dataset.key === key);
  });
  all("[role=tab]").forEach(function (tab) {
    var chosen = tab.id === "tab-" + key;
    tab.setAttribute("aria-selected", chosen ? "true" : "false");
    tab.tabIndex = chosen ? 0 : -1;
  });
  enlarge(0);
  if (key === "space") { openSpace(); }
}

// Lights the named parts and, fainter, the lines that join them; the rest steps back.
function point(names, pinned, only) {
  var lit = new Set(names), near = new Set();
  names.forEach(function (name) {
    (facts.joined[name] || []).forEach(function (line) { near.add(line); });
  });
  all(".drawing svg").forEach(function (svg) {
    var any = false;
    all("[data-part]", svg).forEach(function (group) {
      var name = group.dataset.part;
      group.classList.toggle("lit", lit.has(name));
      group.classList.toggle("near", !lit.has(name) && near.has(name));
      any = any || lit.has(name);
    });
    svg.classList.toggle("pointing", any);
  });
  all(".finding").forEach(function (finding) {
    var parts = JSON.parse(finding.dataset.parts);
    var meant = only ? finding === only : names.length > 0 && parts[0] === names[0];
    finding.classList.toggle("pointed", meant);
  });
  point.pinned = pinned ? names : [];
  lightSpace(names);
}
point.pinned = [];

function tell(text) {
  one(".told").textContent = text;
}

function startParts() {
  point.pinned = [];
  all(".drawing:not(#drawing-space)").forEach(function (figure) {
    var svg = one("svg", figure), paper = one(".paper", figure), at = -1;
    all("[data-part]", svg).forEach(function (group) {
      group.addEventListener("mouseenter", function () { describe(group, false); });
      group.addEventListener("mouseleave", function () { point(point.pinned, true); });
      group.addEventListener("click", function () { describe(group, true); });
    });
    paper.addEventListener("keydown", function (event) {
      var groups = all("g.part, g.line, g.tank, g.header, g.zone, g.former", svg);
      if (event.key === "Escape") { point([], false); tell(""); return; }
      if (event.key === "Enter" && groups[at]) { toFirstFinding(groups[at].dataset.part); return; }
      var step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!step || !groups.length) { return; }
      at = (at + step + groups.length) % groups.length;
      describe(groups[at], true);
      groups[at].scrollIntoView({ block: "nearest", inline: "center" });
      event.preventDefault();
    });
  });
}

function describe(group, pinned) {
  var name = group.dataset.part, title = one("title", group);
  var numbers = findingsOf(name).map(function (finding) { return finding.dataset.finding; });
  var noted = numbers.length ? "; findings " + numbers.join(", ") : "";
  point([name], pinned);
  tell((title && title.parentNode === group ? title.textContent : name) + noted);
}
