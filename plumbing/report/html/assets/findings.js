// Findings point at their parts; they can be chosen by severity and by words.

function findingsOf(name) {
  return all(".finding").filter(function (finding) {
    return JSON.parse(finding.dataset.parts).indexOf(name) >= 0;
  });
}

function toFirstFinding(name) {
  var first = findingsOf(name)[0];
  if (!first) { return; }
  first.tabIndex = -1;
  first.focus();
  first.scrollIntoView({ block: "center" });
}

function startFindings() {
  all(".finding").forEach(function (finding) {
    var names = JSON.parse(finding.dataset.parts);
    function on() { point(names, false, finding); }
    function off() { point(point.pinned, true); }
    finding.addEventListener("mouseenter", on);
    finding.addEventListener("mouseleave", off);
    finding.addEventListener("focusin", on);
    finding.addEventListener("focusout", off);
    all(".at a", finding).forEach(function (link) {
      link.addEventListener("click", function (event) {
        event.preventDefault();
        showPart(link.getAttribute("href").slice(1), names, finding);
      });
    });
  });
  all(".drawing svg a").forEach(function (link) {
    link.addEventListener("click", function (event) {
      event.stopPropagation();
      var finding = document.querySelector(link.getAttribute("href"));
      if (finding) { reveal(finding); point(JSON.parse(finding.dataset.parts), true, finding); }
    });
  });
  startFilter();
}

// Brings the drawing that shows the part to the front, unless the one in front shows it already.
function showPart(id, names, finding) {
  var here = one(".drawing.shown");
  var shows = here && here.id === "drawing-space" || here && all("[data-part]", here).some(function (group) {
    return group.dataset.part === names[0];
  });
  if (!shows) { showDrawing(document.getElementById(id).closest(".drawing").dataset.key); }
  point(names, true, finding);
  var drawing = one(".drawing.shown");
  var group = one("[data-part].lit", drawing);
  if (group) { group.scrollIntoView({ block: "nearest", inline: "center" }); }
}

function reveal(finding) {
  if (finding.hidden) { one(".chooser").reset(); choose(); }
}

function startFilter() {
  var form = one(".chooser");
  if (!form) { return; }
  form.addEventListener("input", choose);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
}

function choose() {
  var words = one(".chooser input[type=search]").value.trim().toLowerCase();
  var chosen = all(".chooser input[type=checkbox]:checked").map(function (box) { return box.value; });
  var shown = 0;
  all(".broken-rule").forEach(function (check) {
    var name = one("h4", check).textContent.toLowerCase(), any = false;
    all(".finding", check).forEach(function (finding) {
      var text = name + " " + finding.textContent.toLowerCase();
      var keep = chosen.indexOf(finding.dataset.severity) >= 0 && text.indexOf(words) >= 0;
      finding.hidden = !keep;
      any = any || keep;
      shown += keep ? 1 : 0;
    });
    check.hidden = !any;
  });
  all(".severity").forEach(function (group) {
    group.hidden = !all(".broken-rule", group).some(function (check) { return !check.hidden; });
  });
  one(".chooser .none").textContent = shown ? "" : "No finding is like that.";
}
