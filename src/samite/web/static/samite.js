// Answers as one types. Without this file the form works as a plain form.

const PAUSE_MS = 350; // rest between keys that counts as a label
const PATIENCE_MS = 700; // further rest before half a label is called wrong
const form = document.getElementById("ask");
const box = document.getElementById("label");
const answer = document.getElementById("answer");
const trouble = document.getElementById("trouble");
const iron = document.getElementById("my-iron");
const ironTrouble = document.getElementById("iron-trouble");
const fileTrouble = document.getElementById("file-trouble");
const told = document.getElementById("told");
const brief = document.getElementById("brief");
const start = answer.querySelector(".start")?.outerHTML ?? "";

let turn = 0; // number of the label on the page; an answer to an older one is dropped
let timer = 0;
let running = new AbortController();

function words() {
  const asked = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (value.trim() && !(name === "units" && value === "metric")) asked.append(name, value.trim());
  }
  return asked;
}

async function fetchPart(name, mine) {
  const asked = words();
  asked.set("seq", mine);
  const reply = await fetch(`part/${name}?${asked}`, { signal: running.signal });
  const text = await reply.text();
  return { ok: reply.ok, part: toElement(text) };
}

function toElement(text) {
  const holder = document.createElement("template");
  holder.innerHTML = text;
  return holder.content.firstElementChild;
}

function isStale(part) {
  return !part || part.dataset.seq !== String(turn);
}

async function ask() {
  clearTimeout(timer);
  timer = 0;
  running.abort();
  running = new AbortController();
  const mine = ++turn;
  history.replaceState(null, "", `?${words()}`);
  if (!box.value.trim()) return showStart();
  document.getElementById("card")?.classList.add("old");
  await guarded(mine, async () => {
    const { ok, part } = await fetchPart("card", mine);
    if (!ok) await new Promise((done) => setTimeout(done, PATIENCE_MS));
    if (isStale(part) || (!ok && timer)) return;
    if (!ok) return showTrouble(part);
    showCard(part);
    await askWindow(mine);
  });
}

async function askWindow(mine) {
  if (document.getElementById("card")?.dataset.window !== "wanted") return;
  await guarded(mine, async () => {
    const { ok, part } = await fetchPart("window", mine);
    if (isStale(part)) return;
    if (!ok) return showWindowTrouble(part);
    showWindow(part);
  });
}

async function guarded(mine, work) {
  try {
    await work();
  } catch (error) {
    if (error.name === "AbortError" || mine !== turn) return;
    showTrouble(
      toElement(
        '<div class="error"><p><strong>samite no longer answers</strong></p><p>What you typed is kept. ' +
          "Start <b>samite serve</b> again on the computer that runs it, then type on.</p></div>",
      ),
    );
  }
}

function showTrouble(part) {
  clearTrouble();
  if (part.dataset.beside === "iron") showIronTrouble(part);
  else {
    trouble.replaceChildren(part);
    box.setAttribute("aria-invalid", "true");
  }
  answer.replaceChildren(document.getElementById("none").content.cloneNode(true));
  answer.firstElementChild.id = "card";
  brief.textContent = "";
}

function showWindowTrouble(part) {
  const waiting = document.querySelector(".working");
  if (waiting) waiting.textContent = `The odds cannot be told: ${part.querySelector(".what").textContent}`;
}

function showIronTrouble(part) {
  const file = form.elements.iron;
  const pasted = file.value.trim() !== "";
  iron.open = true;
  (pasted ? fileTrouble : ironTrouble).replaceChildren(part);
  const where = part.querySelector(".where")?.textContent ?? "";
  for (const field of iron.querySelectorAll("[data-words]")) {
    if (where.includes(field.dataset.words)) field.setAttribute("aria-invalid", "true");
  }
  if (pasted) file.setAttribute("aria-invalid", "true");
}

function clearTrouble() {
  trouble.replaceChildren();
  ironTrouble.replaceChildren();
  fileTrouble.replaceChildren();
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
}

function showStart() {
  clearTrouble();
  answer.innerHTML = start;
  brief.textContent = "";
}

function showCard(part) {
  clearTrouble();
  const open = openIds();
  answer.replaceChildren(part);
  reopen(open);
  dress(part);
  told.textContent = `Card ready: ${part.dataset.name}.`;
}

// Only what hangs on the odds is renewed; the rest stays as it is under the reader's finger.
function showWindow(part) {
  const open = openIds();
  const held = document.activeElement?.closest("details")?.id;
  for (const late of part.querySelectorAll("[data-late]")) {
    document.getElementById(late.id).replaceWith(late);
  }
  reopen(open);
  if (held) document.getElementById(held)?.querySelector("summary").focus();
  dress(answer);
  told.textContent = `Odds worked out. Press: ${brief.textContent}.`;
}

function openIds() {
  return [...answer.querySelectorAll("details[open]")].map((item) => item.id);
}

function reopen(ids) {
  for (const id of ids) {
    const found = document.getElementById(id);
    if (found) found.open = true;
  }
}

// What only a script can do is shown only where there is one.
function dress(part) {
  for (const button of part.querySelectorAll("button[hidden]")) button.hidden = false;
  const press = document.getElementById("press");
  if (press) brief.textContent = press.dataset.brief;
}

function say(extra) {
  box.value = `${box.value.trim().replace(/,$/, "")}, ${extra}`;
  ask();
}

function count(button) {
  const first = Number(button.dataset.begin);
  const last = Number(button.dataset.stop);
  const began = performance.now();
  clearInterval(Number(button.dataset.clock));
  const clock = setInterval(() => {
    const second = Math.floor((performance.now() - began) / 1000) + 1;
    const over = second > last;
    button.textContent = over ? "STOP: lift" : second < first ? `${second}` : `${second} · may lift`;
    button.classList.toggle("over", over);
    if (second > last + 3 || !button.isConnected) {
      clearInterval(clock);
      button.textContent = "Count again";
      button.classList.remove("going", "over");
    }
  }, 100);
  button.dataset.clock = clock;
  button.classList.add("going");
  button.textContent = "1";
}

document.documentElement.classList.add("live");
box.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(ask, PAUSE_MS);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  ask();
});
// On the document, since the units stand outside the form that they belong to.
document.addEventListener("change", (event) => {
  const not = event.target.dataset.not;
  if (not && event.target.checked) {
    const other = form.querySelector(`input[value="${not}"]`);
    other.checked = false;
  }
  if (event.target !== box && event.target.form === form) ask();
});
answer.addEventListener("click", (event) => {
  const picture = event.target.closest("[data-say]");
  if (picture) {
    event.preventDefault();
    say(picture.dataset.say);
    box.focus();
  }
  const counter = event.target.closest(".count");
  if (counter) count(counter);
  if (event.target.closest(".print")) window.print();
});
dress(answer);
if (answer.querySelector('[data-window="wanted"]')) {
  // A page that came with its card: number it as the first label, then ask for its odds.
  turn = 1;
  askWindow(1);
}
