// Tables sorted by the column whose heading is pressed: rising, falling, as it was.

function startTables() {
  all(".scroll table").forEach(function (table) {
    var rows = all("tbody tr", table);
    if (rows.length < 3) { return; }
    all("thead th", table).forEach(function (head, column, heads) {
      var button = made("button");
      button.type = "button";
      while (head.firstChild) { button.appendChild(head.firstChild); }
      head.appendChild(button);
      button.addEventListener("click", function () { sortBy(table, rows, heads, column); });
    });
  });
}

function sortBy(table, rows, heads, column) {
  var next = { ascending: "descending", descending: "" }[heads[column].getAttribute("aria-sort")];
  if (next === undefined) { next = "ascending"; }
  heads.forEach(function (head) { head.removeAttribute("aria-sort"); });
  if (next) { heads[column].setAttribute("aria-sort", next); }
  var sign = next === "descending" ? -1 : 1;
  var sorted = next ? rows.slice().sort(function (a, b) {
    return sign * compared(a.children[column], b.children[column]);
  }) : rows;
  var body = one("tbody", table);
  sorted.forEach(function (row) { body.appendChild(row); });
}

// Numbers by size, names in natural order, empty cells last.
function compared(a, b) {
  var x = a.dataset.value, y = b.dataset.value;
  if (x !== undefined && y !== undefined) { return Number(x) - Number(y); }
  if (!a.textContent || !b.textContent) { return a.textContent ? -1 : b.textContent ? 1 : 0; }
  return a.textContent.localeCompare(b.textContent, "en", { numeric: true });
}
