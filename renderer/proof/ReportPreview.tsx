import { useEffect, useRef } from 'react';
import { extractStyles } from './extract-styles.ts';

/**
 * The report as it will be saved, in a shadow tree, so that its styles and the page's do not mix. The page's content security
 * policy blocks styles in markup; the sheet is therefore adopted as a constructed one, and style attributes are set as
 * properties. Scripts would not run.
 */
export function ReportPreview({ html }: { html: string }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = box.current;
    if (!host) return;
    const shadow = host.shadowRoot ?? host.attachShadow({ mode: 'open' });
    const { markup, sheet: text } = extractStyles(html);
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(text);
    shadow.adoptedStyleSheets = [sheet];
    const report = new DOMParser().parseFromString(markup, 'text/html');
    shadow.replaceChildren(...Array.from(report.body.childNodes, (node) => document.importNode(node, true)));
    for (const element of shadow.querySelectorAll<HTMLElement | SVGElement>('[data-style]'))
      element.style.cssText = element.dataset['style'] ?? '';
  }, [html]);
  return <div ref={box} className="report-preview" />;
}
