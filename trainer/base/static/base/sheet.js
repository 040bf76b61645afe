// Small helps on top of pages that work without script.
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-copy]");
  if (!button) return;
  const source = document.getElementById(button.dataset.copy);
  navigator.clipboard?.writeText(source.value ?? source.textContent.trim()).then(() => {
    button.textContent = button.dataset.done;
  });
});
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});
