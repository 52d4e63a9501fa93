import { useEffect, useRef } from 'react';
import { extractStyles } from './extract-styles.ts';

/**
 * The report as it will be saved, in a shadow tree of its own, so that its style and ours do not meet. The page's content
 * security policy lets no style in a text take effect; the sheet is therefore taken over as a constructed one and each
 * element's own style by its properties. Scripts would not run.
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
