// After htmx has put in new results, the rest of the page follows: the messages under the fields, figures that another lot or
// tank brings with it, and the ledge. What somebody is typing is never touched.
"use strict";
(() => {
  const form = document.getElementById("scale");
  if (!form || !window.htmx) return;
  let sent = new Map();
  let leaving = false;

  form.addEventListener("htmx:config:request", (event) => {
    if (leaving) event.preventDefault();
    sent = new Map(new FormData(form));
  });

  // When the form itself is sent, an answer on its way must not change the page that is being left.
  form.addEventListener("submit", () => {
    leaving = true;
    window.htmx.trigger(form, "htmx:abort");
  });
  window.addEventListener("pageshow", () => { leaving = false; });

  const stale = document.getElementById("scale-stale");
  form.addEventListener("htmx:error", () => { stale.hidden = false; });

  form.addEventListener("htmx:after:request", (event) => {
    stale.hidden = true;
    const fresh = new DOMParser().parseFromString(event.detail.ctx.text, "text/html");
    const theirs = fresh.getElementById("scale");
    if (!theirs) return;
    for (const control of form.elements) {
      const other = control.name && theirs.elements.namedItem(control.name);
      if (!other) continue;
      mark(control, other);
      const untouched = control.value === sent.get(control.name);
      if (untouched && control !== document.activeElement) control.value = other.value;
    }
    replace("#put-right", fresh, () => document.querySelector("#scale-said"));
    copy(".ledge", fresh);
    copy("#scale-said", fresh);
    copy("h1", fresh);
  });

  // mark takes over whether a field must be put right, and the lines under it.
  function mark(control, other) {
    const field = control.closest(".field"), theirs = other.closest(".field");
    if (!field || !theirs) return;
    field.className = theirs.className;
    for (const name of ["aria-invalid", "aria-describedby"]) {
      if (other.hasAttribute(name)) control.setAttribute(name, other.getAttribute(name));
      else control.removeAttribute(name);
    }
    for (const line of field.querySelectorAll(":scope > .help, :scope > .err")) line.remove();
    field.append(...theirs.querySelectorAll(":scope > .help, :scope > .err"));
  }

  function copy(selector, fresh) {
    const mine = document.querySelector(selector), theirs = fresh.querySelector(selector);
    if (mine && theirs && mine.innerHTML !== theirs.innerHTML) mine.replaceChildren(...theirs.childNodes);
  }

  // replace puts in, exchanges or takes away a part that is not always there.
  function replace(selector, fresh, before) {
    const mine = document.querySelector(selector), theirs = fresh.querySelector(selector);
    if (theirs) theirs.removeAttribute("autofocus");
    if (mine && theirs) mine.replaceWith(theirs);
    else if (mine) mine.remove();
    else if (theirs) before().before(theirs);
  }
})();
