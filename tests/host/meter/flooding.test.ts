import { expect, it } from 'vitest';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait } from '../../helpers/wait-until.ts';
import { lineTexts, neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

const volts = builtInProfiles.find(({ channels }) => channels[0]?.role === 'flame_signal')!.name;

it.each([
  ['blank lines', '\n'],
  ['lines of one figure', '1\n'],
  ['blank lines with CR LF', '\r\n'],
])(
  'a meter that sends 5 MB/s of %s is disconnected in words, and the other is recorded on',
  async (_, text) => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    valueOf(await host.handlers['meters.connect']({ port: 'volts', profile: volts }, neverAborted));
    const id = await record();
    const chunk = text.repeat(50_000 / text.length);
    for (let n = 0; n < 200; n += 1) {
      send(chunk);
      if (n % 10 === 9) send(`${n}\n`, 'volts');
      await wait(10);
    }

    for await (const meters of host.handlers['meters.live']({}, AbortSignal.timeout(5000))) {
      const gauge = meters.find(({ port }) => port === 'gauge');
      expect(gauge).toMatchObject({ status: 'lost', fault: { code: 'meter-flooding' } });
      break;
    }
    const beforeMs = performance.now();
    valueOf(await host.handlers['captures.finish']({ capture: id }, neverAborted));
    expect(performance.now() - beforeMs).toBeLessThan(10_000);

    const capture = storedCapture(folder, id);
    expect(capture.marks.map((mark) => mark.text)).toContain('gauge was closed: it sent too many lines');
    const fromVolts = capture.lines.filter(({ port }) => port === 'volts').map(({ raw }) => Number(raw));
    expect(fromVolts).toEqual(Array.from({ length: 20 }, (__, i) => 10 * i + 9));
    const flood = lineTexts({ ...capture, lines: capture.lines.filter(({ port }) => port === 'gauge') });
    expect(flood.length).toBeGreaterThan(200_000);
    expect(flood.length).toBeLessThan(260_000);
    expect(new Set(flood)).toEqual(new Set([text.trim()]));
  },
  60_000,
);
