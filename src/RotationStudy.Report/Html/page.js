"use strict";
// Turns the column headings of sortable tables into buttons. Without it every table still reads in its given order.
(function () {
  const said = document.getElementById("said");

  function keyOf(row, column) {
    const cell = row.cells[column];
    const number = cell.dataset.sort;
    return number === undefined ? { text: cell.textContent.trim() } : { number: Number(number) };
  }

  function compare(a, b) {
    if (a.number !== undefined && b.number !== undefined) return a.number - b.number;
    if (a.number !== undefined) return -1;
    if (b.number !== undefined) return 1;
    return a.text.localeCompare(b.text, "en", { numeric: true });
  }

  function sortBy(table, heading, column, button) {
    const descending = heading.getAttribute("aria-sort") === "ascending";
    for (const other of heading.parentNode.cells) other.removeAttribute("aria-sort");
    heading.setAttribute("aria-sort", descending ? "descending" : "ascending");
    const body = table.tBodies[0];
    const rows = Array.from(body.rows).map((row) => ({ row: row, key: keyOf(row, column) }));
    rows.sort((a, b) => (descending ? compare(b.key, a.key) : compare(a.key, b.key)));
    for (const item of rows) body.appendChild(item.row);
    said.textContent = table.caption.textContent + ": sorted by " + button.textContent + (descending ? ", descending" : ", ascending");
  }

  for (const table of document.querySelectorAll("table[data-sortable]")) {
    Array.from(table.tHead.rows[0].cells).forEach((heading, column) => {
      const button = document.createElement("button");
      button.type = "button";
      button.append(...heading.childNodes);
      heading.append(button);
      button.addEventListener("click", () => sortBy(table, heading, column, button));
    });
  }
})();
