// Put into pages only while they are shown by `catalogue watch`: reloads a page when what it shows was made again,
// keeps the place the reader was at, and shows what is wrong in a saved file.
(() => {
  "use strict";
  const own = document.currentScript;
  const place = `catalogue-place:${location.pathname}`;
  const page = decodeURIComponent(location.pathname).replace(/^\//, "").replace(/(^|\/)$/, "$1index.html");
  const folder = page.slice(0, page.lastIndexOf("/") + 1);
  let shown = Number(own.dataset.build);

  // What was typed into a form, so that a page that is made again meanwhile does not take it away.
  const fields = () => {
    const form = document.querySelector("form.filling");
    return form && !form.dataset.kept ? [...form.querySelectorAll("input, select, textarea")] : [];
  };
  const ticked = (field) => field.type === "radio" || field.type === "checkbox";
  const key = (field) => JSON.stringify([field.id, field.name, field.dataset, ticked(field) ? field.value : ""]);
  const typed = () => fields()
    .filter((field) => !field.readOnly && field.type !== "range" && field.name !== "file")
    .filter((field) => ticked(field) ? field.checked !== field.defaultChecked : field.value !== field.defaultValue)
    .map((field) => [key(field), ticked(field) ? field.checked : field.value]);
  const typeAgain = (kept) => {
    for (const [name, value] of kept) {
      const field = fields().find((each) => key(each) === name);  // anew: one choice may bring others
      if (!field) continue;
      if (ticked(field)) field.checked = value;
      else field.value = value;
      for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
    }
    const said = document.querySelector(".result .said");
    if (kept.length && said) {
      said.textContent = "This page was made again meanwhile. What you typed is here: look at it once more.";
    }
  };

  const keep = () => {
    const step = document.getElementById("at-step");
    const kept = { x: scrollX, y: scrollY, step: step ? step.value : null, typed: typed() };
    try { sessionStorage.setItem(place, JSON.stringify(kept)); } catch { /* then the page opens at its top */ }
  };

  const goBack = () => {
    let kept = null;
    try {
      kept = JSON.parse(sessionStorage.getItem(place));
      sessionStorage.removeItem(place);
    } catch { /* nothing was kept */ }
    if (!kept) return;
    const step = document.getElementById("at-step");
    if (step && kept.step !== null) {
      step.value = kept.step;
      step.dispatchEvent(new Event("input", { bubbles: true }));
      step.dispatchEvent(new Event("change", { bubbles: true }));
    }
    typeAgain(kept.typed);
    scrollTo({ left: kept.x, top: kept.y, behavior: "instant" });
  };

  const touches = (changed) => changed === null || changed.some((path) =>
    path === page || path.startsWith("assets/") || path.startsWith(`${folder}choices/`) ||
    (path.startsWith(folder) && !path.slice(folder.length).includes("/")));

  const banner = document.createElement("div");
  banner.id = "catalogue-banner";
  banner.setAttribute("role", "alert");
  banner.style.cssText = "position:fixed;inset:auto 0 0 0;max-height:45vh;overflow:auto;z-index:2147483647;" +
    "background:#5b1a12;color:#fff;font:15px/1.45 ui-monospace,Menlo,Consolas,monospace;padding:14px 18px;" +
    "white-space:pre-wrap;border-top:3px solid #fff";
  const say = (text) => {
    banner.textContent = text;
    if (text && !banner.isConnected) document.body.append(banner);
    if (!text) banner.remove();
  };

  const told = (event) => {
    const news = JSON.parse(event.data);
    if (news.build !== shown) {
      const skipped = news.build !== shown + 1;
      shown = news.build;
      if (skipped || touches(news.changed)) {
        keep();
        location.reload();
        return;
      }
    }
    say(news.wrong);
  };

  const listen = () => {
    const source = new EventSource(`/-/events?${encodeURIComponent(page)}`);
    source.addEventListener("message", told);
    addEventListener("pagehide", () => source.close());
  };
  if (document.readyState === "complete") { goBack(); listen(); }
  else addEventListener("load", () => { goBack(); listen(); });
})();
