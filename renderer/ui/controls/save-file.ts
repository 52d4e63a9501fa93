/** Hands a made file to the person, the way the browser saves files. */
export function saveFile(name: string, bytes: Uint8Array): void {
  const url = URL.createObjectURL(new Blob([bytes.slice()]));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken its own hold of the bytes by the next turn of the page.
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}
