// The form of the logbook: sends a row to the live server, and says what became of it.

function startLogbook() {
  var room = one("#logbook");
  if (startLogbook.on || !room) { return; }
  startLogbook.on = true;
  var form = room.querySelector("form"), said = room.querySelector(".said");
  form.elements.date.valueAsDate = new Date(Date.now() - 60000 * new Date().getTimezoneOffset());
  form.addEventListener("submit", function (event) {
    event.preventDefault();
    var row = {}, button = form.querySelector("button");
    new FormData(form).forEach(function (value, key) { if (value) { row[key] = value; } });
    button.disabled = true;
    fetch("logbook", {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Token": room.dataset.token },
      body: JSON.stringify(row)
    }).then(function (answer) {
      return answer.json().then(function (told) {
        said.textContent = [told.words].concat(told.faults.map(function (fault) {
          return "found " + fault.found + "; expected " + fault.expected;
        })).join("\n");
        if (told.written) {
          form.querySelectorAll("input:not([type=date])").forEach(function (box) { box.value = ""; });
        }
      });
    }).catch(function () { said.textContent = "Not connected: nothing was written."; })
      .then(function () { button.disabled = false; });
  });
}
