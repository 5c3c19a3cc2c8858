// Shows how far the long work of a job is. Without this file the page says to load it again.

const WAIT_MS = 700;
const work = document.getElementById("work");
const key = document.querySelector("main").dataset.key;
const going = ["running", "waiting", "stopping"];

async function look() {
  const reply = await fetch(`api/job-state?key=${encodeURIComponent(key)}`);
  const told = await reply.json();
  if (!reply.ok || !going.includes(told.state)) return location.reload();
  work.querySelector(".doing").textContent = told.name || "beginning";
  const bar = work.querySelector("progress");
  bar.max = told.whole || 1;
  bar.value = told.done;
  setTimeout(look, WAIT_MS);
}

if (going.includes(work.dataset.state)) {
  document.documentElement.classList.add("live");
  setTimeout(look, WAIT_MS);
}

// Orders the cloths of a comparison anew while a slider moves. Without this file the button does it.

function order(form) {
  const rows = [...form.querySelectorAll("tbody tr")].filter((row) => row.querySelector("input"));
  const weights = rows.map((row) => Number(row.querySelector("input").value));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const told = form.querySelector(".order");
  if (whole <= 0) {
    told.textContent = "Let at least one thing count.";
    return;
  }
  const heads = [...form.querySelectorAll("thead [data-cloth]")];
  const places = rows.map((row) =>
    [...row.querySelectorAll("[data-place]")].map((cell) => Number(cell.dataset.place)));
  const choices = heads.map((head, at) => ({
    at,
    cloth: head.dataset.cloth,
    beaten: Number(head.dataset.beaten),
    score: places.reduce((sum, row, line) => sum + weights[line] * row[at], 0) / whole,
  }));
  choices.sort((one, other) => other.score - one.score || one.beaten - other.beaten);
  for (const row of form.querySelectorAll("tr")) {
    const cells = [...row.children].slice(2);
    choices.forEach((choice) => row.append(cells[choice.at]));
  }
  const scores = form.querySelectorAll(".score");
  choices.forEach((choice, at) => {
    scores[at].textContent = `${Math.round(choice.score * 100)} of 100`;
  });
  const first = `First: ${choices[0].cloth}`;
  if (told.textContent !== first) told.textContent = first;
}

for (const form of document.querySelectorAll(".weigh")) {
  form.addEventListener("input", () => order(form));
}
