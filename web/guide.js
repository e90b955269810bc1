// The guide as dark as the app is, and the way back to the screen that it was opened from.

const from = location.hash;
if (from.startsWith("#/")) {
  document.querySelector("a[href='./']").href = `./${from}`;
}
try {
  // As the app keeps it: a text of JSON.
  document.documentElement.classList.toggle("cellar", JSON.parse(localStorage.getItem("theme")) === "cellar");
} catch {
  // Without storage it is as bright as the device wants it.
}
