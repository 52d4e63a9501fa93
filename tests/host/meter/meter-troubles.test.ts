import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createMeters } from '../../../electron/host/acquire/meter/meters.ts';
import { openSerialPort } from '../../../electron/host/acquire/ports/serial-port.ts';
import { defaultTiming } from '../../../electron/host/acquire/protocol/timing.ts';
import { systemClock } from '../../../electron/host/clock.ts';
import { Profile } from '../../../shared/model/profile.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import { plugIn } from '../../helpers/pty-meter.ts';

/** The host's meters without a store: every line is published at once. */
function metersWithoutStore() {
  const lines: string[] = [];
  const gaps: string[] = [];
  const meters = createMeters({
    clock: systemClock,
    timing: { ...defaultTiming, retryMs: 100 },
    openPort: openSerialPort,
    intake: { receive: (source, bytes, atMs) => source.push(bytes, atMs), drain: () => {}, hasBacklog: () => false },
    onLine(line) {
      lines.push(line.text);
      line.meter.publish([line]);
    },
    onGap: (text) => gaps.push(text),
    onChange: () => {},
  });
  onTestFinished(() => meters.stop());
  return { meters, lines, gaps, view: () => meters.view()[0] };
}

/** A meter that is polled, on a pseudo-terminal: records what it was sent; the test sends its responses. */
async function polledMeter(path: string) {
  const socat = spawn('socat', ['STDIO', `pty,raw,echo=0,link=${path}`], { stdio: ['pipe', 'pipe', 'ignore'] });
  onTestFinished(() => void socat.kill('SIGKILL'));
  socat.stdin.on('error', () => {});
  let polls = '';
  socat.stdout.on('data', (bytes: Buffer) => (polls += bytes.toString()));
  await waitUntil(`the pseudo-terminal ${path}`, () => existsSync(path));
  return { polls: () => polls, send: (text: string) => socat.stdin.write(text), unplug: () => socat.kill('SIGKILL') };
}

describe('a meter whose cable is pulled and plugged in again', () => {
  it('is polled by the new connection with whole polls only, and its half line is kept but not read', async () => {
    const path = join(testFolder(), 'a');
    const { meters, lines, gaps, view } = metersWithoutStore();
    const profile = Profile.parse({
      name: 'Polled',
      mode: 'poll',
      poll: { send: 'READ?\n', everyMs: 50 },
      line: { format: 'number' },
      channels: [{ role: 'flame_signal', unit: 'V' }],
    });
    const first = await polledMeter(path);
    await meters.connect(path, profile);
    await waitUntil('polls', () => first.polls().length > 30);
    first.send('4.61\n4.6');
    await waitUntil('the response', () => lines.includes('4.61'));
    const unpluggedMs = performance.now();
    first.unplug();
    await waitUntil('the loss', () => view()?.status === 'lost');
    const lostMs = performance.now();
    expect(lines).toEqual(['4.61', '4.6']);
    expect(view()?.latest[0]).toMatchObject({ flag: 'unreadable' });

    await wait(300);
    const pluggedMs = performance.now();
    const again = await polledMeter(path);
    await waitUntil('polls', () => again.polls().length > 30);
    const polledMs = performance.now();
    // Nothing of the old connection is written into the new one: from the first byte on only whole polls, and only a few.
    expect(again.polls().replaceAll('READ?\n', '')).toBe('');
    expect(again.polls().length).toBeLessThan(300);
    again.send('4.62\n');
    await waitUntil('the response', () => lines.includes('4.62'));
    expect(view()?.status).toBe('live');
    expect(gaps[0]).toBe(`${path} went away`);
    // The port was lost between the pull and the check that saw it, and opened between the plug and the polls; the note has tenths.
    const gapS = Number(/^(.*) is back after (\d+\.\d) s$/u.exec(gaps[1] ?? '')?.[2]);
    expect(gapS).toBeGreaterThanOrEqual((pluggedMs - lostMs) / 1000 - 0.05);
    expect(gapS).toBeLessThanOrEqual((polledMs - unpluggedMs) / 1000 + 0.05);
  });

  it('loses no line before the pull, many times over', async () => {
    const path = join(testFolder(), 'a');
    const { meters, lines, view } = metersWithoutStore();
    const profile = Profile.parse({
      name: 'P',
      line: { format: 'number' },
      channels: [{ role: 'flame_signal', unit: 'V' }],
    });
    let meter = await plugIn(path);
    await meters.connect(path, profile);
    for (let round = 1; round <= 3; round += 1) {
      await waitUntil('the port', () => view()?.status === 'waiting' || view()?.status === 'live');
      // Longer than `partialLineMs`, so that the first line is not flagged.
      await wait(100);
      for (let n = 0; n < 200; n += 1) meter.send(`${round}.${n}\r\n`);
      await waitUntil('the last line', () => lines.includes(`${round}.199`));
      expect(lines.filter((line) => line.startsWith(`${round}.`))).toEqual(
        Array.from({ length: 200 }, (_, n) => `${round}.${n}`),
      );
      meter.unplug();
      await waitUntil('the loss', () => view()?.status === 'lost');
      meter = await plugIn(path);
    }
  });
});

describe('a meter at another speed than in its profile', () => {
  it('is reported as garbage with how to find its speed, though no line ever ends', async () => {
    const meter = await plugIn(join(testFolder(), 'a'));
    const { meters, view } = metersWithoutStore();
    const profile = Profile.parse({
      name: 'P',
      line: { format: 'number' },
      channels: [{ role: 'flame_signal', unit: 'V' }],
    });
    await meters.connect(meter.path, profile);
    await waitUntil('the port', () => view()?.status === 'waiting');
    // At a quarter of the speed each bit fills four: nibbles of 0 and F (worked out by hand).
    for (let n = 0; n < 20; n += 1) meter.send(Buffer.from('f000ff0f', 'hex'));
    await waitUntil('the report', () => view()?.status === 'unreadable');
    expect(view()?.fault).toMatchObject({
      code: 'meter-garbled',
      message: `Data arrives on ${meter.path}, but at 9600 baud it is not readable text. Listen on the port to find the right speed.`,
    });
    for (let n = 0; n < 40; n += 1) meter.send('4.61 V\r\n');
    await waitUntil('the end of it', () => view()?.status === 'live');
    expect(view()?.fault).toBeUndefined();
  });
});
