import { describe, expect, it } from 'vitest';
import { renderHtml } from '../../shared/report/html.ts';
import { proofDocument } from '../../shared/report/proof.ts';
import { escapeMarkup } from '../../shared/report/charts/svg.ts';
import { analysisDetail, made, visit } from './fixture.ts';

const hostile = `</title><script>alert(1)</script><img src=x onerror="alert('2')">&amp;\u0000\u0007`;

describe('the report as HTML', () => {
  it('shows hostile text as text, wherever people can write', () => {
    const capture = visit({
      id: `id"; } body { display: none } ${hostile}`,
      technician: hostile,
      burner: { site: hostile, name: hostile, gas: hostile },
      meters: [{ port: '/dev/ttyUSB0', profile: hostile, description: hostile }],
      marks: [{ elapsedS: 1, kind: 'as-found', text: hostile }],
      notes: [{ at: hostile, by: hostile, text: hostile }],
    });
    const html = renderHtml(proofDocument({ capture, analysis: analysisDetail(), ...made }));
    expect(html).not.toMatch(/<script|<img|<\/title><|onerror="/u);
    expect(/<style>(.*?)<\/style>/su.exec(html)?.[1]).not.toContain('body { display: none }');
    expect(html).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
    // oxlint-disable-next-line no-control-regex
    expect(html).not.toMatch(/[\u0000\u0007]/u);
  });

  it('loads nothing and runs nothing', () => {
    const html = renderHtml(proofDocument({ capture: visit(), analysis: analysisDetail(), ...made }));
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'`);
    const addresses = [...html.matchAll(/(?:src|href|url)\s*[=(]\s*"?([^")\s>]*)/gu)].map((match) => match[1]);
    expect(addresses).toEqual(['data:,']);
  });

  it('gives every chart a text alternative and every table its headings', () => {
    const html = renderHtml(proofDocument({ capture: visit(), analysis: analysisDetail(), ...made }));
    const charts = html.match(/<div role="img" aria-label="[^"]{20,}">/gu) ?? [];
    expect(charts).toHaveLength((html.match(/<svg /gu) ?? []).length);
    expect(html.match(/<table/gu)?.length).toBe(html.match(/<table class="(?:facts|rows)"/gu)?.length);
    expect(html).toMatch(/<th scope="col"/u);
    expect(html).toMatch(/<th scope="row"/u);
  });

  it('never ends a line between a number and its unit', () => {
    const html = renderHtml(proofDocument({ capture: visit(), analysis: analysisDetail(), ...made }));
    expect(html).toContain('<td>2.28\u00a0inH2O</td>');
    expect(html).toContain('4.61\u00a0V (95\u00a0% confidence interval 4.59 to 4.63\u00a0V)');
    expect(html.replaceAll(/<svg.*?<\/svg>/gsu, '')).not.toMatch(/\d (?:inH2O|V|s|min|%)(?![\w])/u);
    // A count and the word behind it are no number with its unit.
    expect(html).toContain('10 of 12 trials lit');
  });

  it('escapes the five characters that have a meaning in markup', () => {
    expect(escapeMarkup(`<a href="x" title='y'>&</a>`)).toBe(
      '&lt;a href=&quot;x&quot; title=&#39;y&#39;&gt;&amp;&lt;/a&gt;',
    );
  });
});
