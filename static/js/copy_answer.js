// The answer sentence onto the clipboard, in one tap; where that is not allowed the button stays
// away and the words can be marked.

for (const button of document.querySelectorAll('[data-copy]')) {
  if (!navigator.clipboard?.writeText) continue;
  button.hidden = false;
  button.addEventListener('click', async () => {
    const words = document.getElementById(button.dataset.copy);
    try {
      await navigator.clipboard.writeText(words.textContent.trim());
      button.textContent = button.dataset.copied;
    } catch {
      getSelection().selectAllChildren(words);
      button.textContent = button.dataset.marked;
    }
  });
}
