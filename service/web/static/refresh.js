// Answers in place: when an input changes, fetch the answer part of the same address and put it where the old one is.
// Without this module, or when anything fails, the form is sent as any form is. A form without `data-part` always is.

const form = document.getElementById("change");
const answer = document.getElementById("answer");
const status = document.getElementById("status");
const json = document.getElementById("as-json");
let pending = null;

/** The form as a query string; inputs left empty are left out. */
function query() {
  const typed = [...new FormData(form)].filter(([, value]) => typeof value === "string" && value.trim() !== "");
  return new URLSearchParams(typed).toString();
}

/** Texts of the new part that belong elsewhere on the page: folded summaries, errors beside their inputs. */
function spread(part) {
  for (const slot of form.querySelectorAll(".fault")) slot.textContent = "";
  for (const input of form.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  for (const text of part.querySelectorAll("[data-to]")) {
    const slot = document.getElementById(text.dataset.to) ?? faultSlot(text.dataset.to);
    if (!slot) continue;
    slot.textContent = text.textContent;
    if (slot.classList.contains("fault")) accuse(slot);
  }
}

/** An error slot under its input: a page that came without errors has none. */
function faultSlot(id) {
  const input = document.getElementById(id.replace(/-error$/, ""));
  const field = input?.closest(".field");
  if (!field) return null;
  const slot = document.createElement("p");
  slot.className = "fault";
  slot.id = id;
  field.append(slot);
  input.setAttribute("aria-describedby", `${input.getAttribute("aria-describedby") ?? ""} ${id}`.trim());
  return slot;
}

/** Mark the input of an error slot, and unfold what hides it. */
function accuse(slot) {
  document.getElementById(slot.id.replace(/-error$/, ""))?.setAttribute("aria-invalid", "true");
  for (let fold = slot.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
}

/** What a reader was unfolding in the old answer stays unfolded in the new one. */
function keepFolds(part) {
  const open = new Set([...answer.querySelectorAll("details[open] > summary")].map((line) => line.textContent));
  for (const line of part.querySelectorAll("details > summary")) line.parentElement.open = open.has(line.textContent);
}

function show(html, search) {
  const part = document.createElement("div");
  part.innerHTML = html;
  keepFolds(part);
  answer.replaceChildren(...part.childNodes);
  spread(answer);
  const headline = answer.querySelector("h1").textContent;
  history.replaceState(null, "", `${location.pathname}?${search}`);
  for (const link of document.querySelectorAll("[data-carry]")) link.href = `${link.dataset.carry}?${search}`;
  document.title = `${headline.replace(/\.$/, "")} · Rangewright`;
  if (json) json.href = `/quote.json?${search}`;
  status.textContent = headline;
}

async function refresh() {
  const search = query();
  pending?.abort();
  pending = new AbortController();
  const mine = pending;
  answer.setAttribute("aria-busy", "true");
  status.textContent = "Working it out…";
  try {
    const reply = await fetch(`${form.dataset.part}?${search}`, { signal: mine.signal });
    if (!reply.ok && reply.status !== 422) throw new Error(`status ${reply.status}`);
    const html = await reply.text();
    if (mine !== pending) return;
    show(html, search);
    answer.removeAttribute("aria-busy");
  } catch (error) {
    if (error.name !== "AbortError" && mine === pending) form.submit();
  }
}

form.addEventListener("change", (event) => {
  if (event.target.type === "file") return; // its own button sends it
  if (!form.dataset.part) unfoldChosen(event.target);
  else if (event.target.name === "units") form.submit(); // every label and number changes with them
  else unfoldChosen(event.target) || refresh();
});

form.addEventListener("submit", (event) => {
  if (!form.dataset.part || event.submitter?.formMethod === "post") return;
  event.preventDefault();
  refresh().then(() => answer.scrollIntoView({ block: "start" })); // on a phone the answer stands far above the button
});

/** Choosing "by its figures" unfolds the figures; there is no answer until they are typed. */
function unfoldChosen(input) {
  const fold = input.value === "own" ? input.closest(".group")?.querySelector(".block") : null;
  if (fold) fold.open = true;
  return Boolean(fold);
}

/** A link from an error or from "Change" unfolds what it leads to. */
answer.addEventListener("click", (event) => {
  const link = event.target.closest('a[href^="#"]');
  const target = link && document.getElementById(link.hash.slice(1));
  if (!target) return;
  for (let fold = target.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  event.preventDefault();
  target.focus();
  target.scrollIntoView({ block: "nearest" });
});
