import { describe, expect, it } from 'vitest';
import type { AnalysisResult } from '../../shared/model/analysis-result.ts';
import type { ProofDocument } from '../../shared/report/document.ts';
import { renderHtml } from '../../shared/report/html.ts';
import { proofDocument } from '../../shared/report/proof.ts';
import { analysisDetail, comparisonDetail, made, result, visit } from './fixture.ts';

const proof = (over: Partial<AnalysisResult> = {}, capture = visit()): ProofDocument =>
  proofDocument({ capture, analysis: analysisDetail(over), ...made });

/** What a reader sees: markup taken off, entities back. */
const textOf = (html: string): string =>
  html
    .replace(/<(style|title)>.*?<\/\1>/gsu, '')
    .replace(/<[^>]*>/gu, ' ')
    .replaceAll('&#39;', "'")
    .replaceAll('&quot;', '"')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&')
    .replace(/\s+/gu, ' ');

const section = (document: ProofDocument, heading: string): string =>
  JSON.stringify(document.sections.find((each) => each.heading === heading));

describe('the proof of settings', () => {
  it('is marked as practice in its title when the burner was an invented one', () => {
    const practiced = { ...visit(), meters: [{ port: 'practice:manometer', profile: 'Manometer, one number a line' }] };
    expect(proof({}, practiced).title).toMatch(/^PRACTICE/);
    expect(proof().title).toBe('Proof of pilot settings');
  });

  it('prints the numbers of the JSON result, each rounded once', () => {
    const text = textOf(renderHtml(proof()));
    const { window, setPoint, asLeft, plateau, requiredSignal, lag_s: lag, hysteresis, readings } = result;
    for (const pressure of [
      window.low?.value,
      window.low?.guarded,
      window.low?.ci[0],
      window.low?.ci[1],
      window.high?.value,
      window.high?.guarded,
      window.high?.ci[1],
      setPoint?.value,
      setPoint?.marginLow,
      asLeft?.value,
      asLeft?.marginLow,
      asLeft?.marginHigh,
      hysteresis?.pressure,
    ])
      expect(text).toContain((pressure as number).toFixed(2));
    for (const signal of [plateau.value, ...plateau.ci, requiredSignal.value, lag.value, ...lag.ci])
      expect(text).toContain(signal.toFixed(2));
    for (const count of Object.values(readings)) expect(text).toContain(String(count));
  });

  it('says how fast the regulator settles, where the sweep showed it, and nothing where it did not', () => {
    const text = textOf(renderHtml(proof()));
    expect(text).toContain('1.4 s (5 turns), past it by 13 % of the step, to within 5 % of the step');
    const analysis = { ...analysisDetail(), explanation: { ...analysisDetail().explanation, stepResponse: undefined } };
    expect(textOf(renderHtml(proofDocument({ capture: visit(), analysis, ...made })))).not.toContain('settles');
  });

  it('explains how the answer was found, reason by reason', () => {
    const found = section(proof(), 'How this was found');
    for (const part of [
      'two shoulders (the search came to rest)',
      '0.03 V (about the curve',
      '1.6 % (of the plateau',
      '171 (of 486;',
      '+0.07 V (99 % interval 0.01 to 0.15 V in 2 min 23 s, at the same pressures)',
      '10.2 s (for 0.6 s; 17 pulses',
      '65 (3 that the meter flagged; 9 that jumped away and straight back; 2 with a time outside the sweep; 51 inside',
    ])
      expect(found).toContain(part);
    expect(found).not.toContain('gas was shut');
  });

  it('names burner, site, technician, and the date with its time zone', () => {
    const text = textOf(renderHtml(proof()));
    for (const fact of ['Boiler 2', 'Ashmere Laundry, boiler house', 'Ida Brandl', '2026-03-11 08:15:30 (UTC+01:00)'])
      expect(text).toContain(fact);
    expect(text).toContain('Capture visit-0001');
  });

  it('says "not stated" for what nobody stated', () => {
    const bare = visit({ burner: undefined, technician: undefined, startedAt: undefined, setup: {}, meters: [] });
    const document = proof({}, bare);
    expect(document.subtitle).toBe('Burner not named');
    expect(section(document, 'What was asked for')).toContain(
      `{"label":"Maker's pilot pressure range","value":"not stated"}`,
    );
    expect(section(document, 'Burner, site and visit')).toContain('{"label":"Technician","value":"not stated"}');
  });

  it('says what a row of trials proves, and never more than that', () => {
    const trials = section(proof(), 'Light-off trials');
    expect(trials).toContain('10 of 12 trials lit.');
    expect(trials).toContain('at least 56 % a trial (Clopper-Pearson)');
  });

  it('warns where no trial was made', () => {
    const untried = proof({ lightOff: undefined }, visit({ trials: [] }));
    expect(section(untried, 'Light-off trials')).toContain('does not prove that the pilot lights');
  });

  it('calls a set point provisional while an end is open', () => {
    const open = proof({
      window: { ...result.window, status: 'open-high' },
      setPoint: { ...(result.setPoint as NonNullable<AnalysisResult['setPoint']>), provisional: true },
    });
    expect(section(open, 'Set point')).toContain('Provisional:');
    expect(section(open, 'Why each end is where it is')).toContain('The high end was not reached');
    expect(section(open, 'As left')).toContain('an end that was not reached is not known');
    expect(open.keyResults[0]).toMatchObject({ tone: 'doubt' });
  });

  it('stays whole where there is no window and no set point', () => {
    const none = proof({ window: { status: 'none' }, signalInterval: { status: 'none' }, setPoint: undefined });
    expect(section(none, 'Set point')).toContain('No set point can be given');
    expect(textOf(renderHtml(none))).not.toMatch(/NaN|undefined|Infinity|null/u);
  });

  it('gives the decision in words that fit it', () => {
    const decided = (decision: 'pass' | 'conditional-pass' | 'conditional-fail' | 'fail') =>
      section(proof({ asLeft: { value: 2.4, marginLow: 1, marginHigh: 1, decision } }), 'As left');
    expect(decided('pass')).toContain('Pass. It lies inside the window by more than');
    expect(decided('conditional-pass')).toContain('Conditional pass. It lies inside the window, but nearer');
    expect(decided('conditional-fail')).toContain('Conditional fail. It lies outside the window, but by less');
    expect(decided('fail')).toContain('Fail. It lies outside the window by more than');
  });

  it('says how probable it is that the as-left pressure lies in the window, and never that it is certain', () => {
    expect(section(proof(), 'As left')).toContain('"98.8 % (JCGM 106:2012)');
    const sure = { ...analysisDetail(), conformance: { probability: 0.99999 } };
    const document = proofDocument({ capture: visit(), analysis: sure, ...made });
    expect(section(document, 'As left')).toContain('more than 99.9 %');
  });

  it('puts the trials pressure into the unit of the report', () => {
    // 2.28 inH2O is 5.68 mbar (249.08891 Pa, NIST SP 811).
    const document = proof({}, visit({ trials: [{ pressure: 5.68, unit: 'mbar', sparkDelayS: 0, lit: true }] }));
    expect(section(document, 'Light-off trials')).toContain('"2.28"');
  });

  it('compares with the earlier sweep when there is one', () => {
    expect(proof().sections.some((each) => each.heading.startsWith('Compared'))).toBe(false);
    const document = proofDocument({
      capture: visit(),
      analysis: analysisDetail(),
      comparison: comparisonDetail(),
      ...made,
    });
    const compared = section(document, 'Compared with the earlier sweep');
    expect(compared).toContain('["Low end of the signal","inH2O","0.91","1.13","+0.22","+0.16 to +0.28","YES"]');
    expect(compared).toContain('["Lag of the signal","s","–","1.14","–","–","cannot say"]');
    expect(compared).toContain('The earlier setting of 2.16 inH2O');
  });

  it('says who decides, and that it only reads meters', () => {
    const cautions = section(proof(), 'Cautions');
    expect(cautions).toContain("maker's manual, the code in force");
    expect(cautions).toContain('only reads meters');
    expect(cautions).toContain('full purge');
  });

  it('is the same document for the same input', () => {
    expect(renderHtml(proof())).toBe(renderHtml(proof()));
  });
});
