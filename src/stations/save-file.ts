/** Hands a file to the browser to be kept. */
export function saveFile(name: string, content: Blob): void {
  const url = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has taken its own hold of the content by the next task.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
