/**
 * Takes the styles that a strict content security policy would block out of an HTML document: style elements become one sheet
 * for a shadow tree (where `:host` stands for root and body), style attributes become `data-style`.
 */
export function extractStyles(html: string): { markup: string; sheet: string } {
  const sheets: string[] = [];
  const markup = html
    .replaceAll(/<style>(.*?)<\/style>/gsu, (_whole, text: string) => {
      sheets.push(text);
      return '';
    })
    .replaceAll(/(<[^<>]*?\s)style=(?=")/gu, '$1data-style=');
  const sheet = sheets.join('\n').replaceAll(/(^|[\s,}])(?:body|html|:root)(?=\s*[,{])/gu, '$1:host');
  return { markup, sheet };
}
