/** Saves bytes as a file by the browser's download. */
export function saveFile(name: string, bytes: Uint8Array): void {
  const url = URL.createObjectURL(new Blob([bytes.slice()]));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has started by then and holds the bytes itself.
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}
