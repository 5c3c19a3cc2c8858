// Lays get shorter while one looks. Without this file the forms work as plain forms.

const LOOK_MS = 700; // from one look at the work to the next
const PATIENCE_MS = 4000; // after the server did not answer
const told = document.getElementById("told");
document.documentElement.classList.add("live");

function cards() {
  return [...document.querySelectorAll("[data-key]")];
}

function isOpen(card) {
  return ["waiting", "running", "stopping"].includes(card.dataset.state);
}

async function send(address, keys) {
  const body = new URLSearchParams(keys.map((key) => ["key", key]));
  await fetch(address, { method: "POST", body, headers: { accept: "application/json" } });
}

async function renew(card) {
  const whole = card.dataset.whole ? "&whole=yes" : "";
  const reply = await fetch(`part/lay?key=${card.dataset.key}${whole}`);
  if (!reply.ok) return;
  const holder = document.createElement("template");
  holder.innerHTML = await reply.text();
  const made = holder.content.firstElementChild;
  const kept = keptFields(card);
  const open = [...card.querySelectorAll("details")].map((one) => one.open);
  card.replaceWith(made);
  made.querySelectorAll("details").forEach((one, at) => (one.open = open[at] ?? false));
  fillFields(made, kept);
  dress(made);
}

// What a person has begun to type or tick stays when the strip is renewed.
function keptFields(card) {
  return [...card.querySelectorAll("form.cutting input")].filter((one) => one.name !== "key").map((one) => ({
    name: one.name,
    value: one.value,
    checked: one.checked,
    box: one.type === "checkbox",
  }));
}

function fillFields(card, kept) {
  for (const field of kept) {
    const same = [...card.querySelectorAll("form.cutting input")].find(
      (one) => one.name === field.name && (!field.box || one.value === field.value),
    );
    if (same && field.box) same.checked = field.checked;
    else if (same) same.value = field.value;
  }
}

async function look() {
  const waiting = cards().filter(isOpen);
  if (!waiting.length) return;
  try {
    const asked = new URLSearchParams(waiting.map((card) => ["key", card.dataset.key]));
    const reply = await fetch(`api/lay/jobs?${asked}`);
    const { jobs } = await reply.json();
    for (const job of jobs) {
      const card = document.getElementById(`lay-${job.key}`);
      if (!card) continue;
      if (String(job.turn) !== card.dataset.turn) await renew(card);
      else showSeconds(card, job);
      if (!isOpen(card) || ["done", "cancelled", "failed"].includes(job.state)) tell(job);
    }
    setTimeout(look, LOOK_MS);
  } catch {
    for (const card of waiting) card.querySelector(".state").textContent = "samite no longer answers; start samite serve again";
    setTimeout(look, PATIENCE_MS);
  }
}

function showSeconds(card, job) {
  const state = card.querySelector(".state");
  if (job.state === "running") state.textContent = `looking for a shorter one, ${Math.round(job.seconds)} s`;
}

function tell(job) {
  if (told && job.length_mm) told.textContent = `A lay is ready: ${(job.length_mm / 10).toFixed(0)} cm laid.`;
}

// Ticks stay on this device under the key of the lay.
function ticksOf(key) {
  try {
    return JSON.parse(localStorage.getItem(`samite-cut-${key}`) ?? "[]");
  } catch {
    return [];
  }
}

function keepTicks(card) {
  const boxes = [...card.querySelectorAll('input[name="cut"]')];
  const ticked = boxes.filter((one) => one.checked).map((one) => one.value);
  try {
    localStorage.setItem(`samite-cut-${card.dataset.key}`, JSON.stringify(ticked));
  } catch {
    // without storage the ticks last as long as the page
  }
}

function showNext(card) {
  const next = card.querySelector("#next");
  if (!next) return;
  const steps = [...card.querySelectorAll(".steps-list li[data-piece]")];
  const isDone = (step) => step.querySelector('input[name="cut"]').checked;
  const first = steps.find((step) => !isDone(step));
  for (const step of steps) {
    step.classList.toggle("done", isDone(step));
    step.classList.toggle("now", step === first);
    const drawn = card.querySelector(`.lay-strip g[data-piece="${CSS.escape(step.dataset.piece)}"]`);
    drawn?.classList.toggle("done", isDone(step));
    drawn?.classList.toggle("now", step === first);
  }
  next.textContent = first ? `Next: ${first.querySelector("b").textContent}` : "All cut.";
}

function dress(card) {
  const ticked = ticksOf(card.dataset.key);
  for (const box of card.querySelectorAll('input[name="cut"]')) {
    if (ticked.includes(box.value)) box.checked = true;
  }
  showNext(card);
}

document.addEventListener("change", (event) => {
  if (event.target.name !== "cut") return;
  const card = event.target.closest("[data-key]");
  keepTicks(card);
  showNext(card);
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.querySelector("button.stop")) return;
  event.preventDefault();
  const card = form.closest("[data-key]");
  send("lay-cancel", [card.dataset.key]).then(() => renew(card));
});

document.addEventListener("click", (event) => {
  const drawn = event.target.closest?.(".lay-strip.large g[data-piece]");
  if (!drawn) return;
  const step = [...document.querySelectorAll(".steps-list li[data-piece]")].find(
    (one) => one.dataset.piece === drawn.dataset.piece,
  );
  if (!step) return;
  step.scrollIntoView({ block: "center" });
  step.querySelector("input").focus();
});

for (const card of cards()) dress(card);
const fresh = cards().filter((card) => card.dataset.state === "asked");
if (fresh.length) {
  await send("lay-begin", fresh.map((card) => card.dataset.key));
  for (const card of fresh) card.dataset.state = "waiting";
}
look();
