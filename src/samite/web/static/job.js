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
