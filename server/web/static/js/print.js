// The print button. Without script a line says how else to print.
"use strict";
(() => {
  const button = document.getElementById("print"), line = document.getElementById("print-line");
  if (!button) return;
  button.hidden = false;
  if (line) line.hidden = true;
  button.addEventListener("click", (event) => { event.preventDefault(); window.print(); });
})();
