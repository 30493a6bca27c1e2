// What the page knows: which lines join which part, and the flight. Read once; text only.
var facts = { joined: {}, flight: { tanks: [], pumps: [], flights: [] } };

function all(selector, root) {
  return Array.prototype.slice.call((root || document).querySelectorAll(selector));
}

function one(selector, root) {
  return (root || document).querySelector(selector);
}

// An element with text; text is never taken for markup.
function made(name, text, className) {
  var element = document.createElement(name);
  if (text) { element.textContent = text; }
  if (className) { element.className = className; }
  return element;
}

function drawn(name, attributes) {
  var element = document.createElementNS("http://www.w3.org/2000/svg", name);
  Object.keys(attributes).forEach(function (key) { element.setAttribute(key, attributes[key]); });
  return element;
}

// Sets the page up; the live page calls it again when the report is renewed.
function start() {
  document.documentElement.classList.add("scripted");
  var data = document.getElementById("data");
  if (data) { facts = JSON.parse(data.textContent); }
  if (one("#drawings")) {
    startSpace();
    startFlight();
    startTabs();
    startParts();
    startFindings();
    startTables();
  }
  if (typeof startLive === "function") { startLive(); }
  if (typeof startLogbook === "function") { startLogbook(); }
}
