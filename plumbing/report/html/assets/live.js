// The live page: listens for changes of the file and renews the report in place.

function startLive() {
  if (startLive.on) { return; }
  startLive.on = true;
  var source = new EventSource("events");
  source.addEventListener("report", function (event) {
    if (event.lastEventId !== document.getElementById("report").dataset.number) { renew(); }
    else { say("Watching the file."); }
  });
  source.addEventListener("faults", function (event) { showFaults(JSON.parse(event.data)); });
  source.addEventListener("working", function () { say("Reading the changed file."); });
  source.onerror = function () { say("Not connected: is `plumbing live` still running?"); };
}

function say(words) {
  one("#live").textContent = words;
}

function renew() {
  fetch(location.pathname, { cache: "no-store" }).then(function (answer) {
    return answer.text();
  }).then(function (text) {
    var page = new DOMParser().parseFromString(text, "text/html");
    var fresh = page.getElementById("report"), old = document.getElementById("report");
    var across = window.scrollX, down = window.scrollY;
    if (!fresh) { return; }
    old.replaceWith(document.adoptNode(fresh));
    document.title = page.title;
    document.body.className = page.body.className;
    one("#broken").hidden = true;
    start();
    window.scrollTo(across, down);
    say("Renewed " + new Date().toLocaleTimeString() + ".");
  }).catch(function () { say("Could not fetch the renewed report."); });
}

function showFaults(said) {
  var room = one("#broken"), list = made("ol", "", "faults");
  room.textContent = "";
  room.appendChild(made("h2", said.words));
  said.faults.forEach(function (fault) {
    var item = made("li");
    item.appendChild(made("p", "line " + fault.line + ", column " + fault.column, "place"));
    item.appendChild(made("p", "found " + fault.found));
    item.appendChild(made("p", "expected " + fault.expected));
    list.appendChild(item);
  });
  room.appendChild(list);
  room.hidden = false;
  say("The file has faults; the drawing is the last good one.");
}
