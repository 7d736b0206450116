// A press on a heading sorts the table by that column, a second one turns the order round.
document.querySelectorAll("table[data-sort]").forEach(function (table) {
  var body = table.tBodies[0];
  table.querySelectorAll("thead button").forEach(function (button, column) {
    button.addEventListener("click", function () {
      var head = button.parentNode;
      var falling = head.getAttribute("aria-sort") === "ascending";
      table.querySelectorAll("thead th").forEach(function (th) { th.removeAttribute("aria-sort"); });
      head.setAttribute("aria-sort", falling ? "descending" : "ascending");
      var rows = Array.prototype.slice.call(body.rows);
      rows.sort(function (a, b) {
        var x = a.cells[column], y = b.cells[column];
        if (!x.textContent !== !y.textContent) return x.textContent ? -1 : 1;
        var order = x.hasAttribute("data-value")
          ? x.getAttribute("data-value") - y.getAttribute("data-value")
          : x.textContent.localeCompare(y.textContent);
        return falling ? -order : order;
      });
      rows.forEach(function (row) { body.appendChild(row); });
    });
  });
});
