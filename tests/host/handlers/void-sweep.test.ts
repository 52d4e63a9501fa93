import { describe, expect, it } from 'vitest';
import { sweepsOf } from '../../../shared/model/sweeps.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait } from '../../helpers/wait-until.ts';
import { neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

async function recordingHost() {
  const folder = testFolder();
  const { host, send, record } = await openTestHost(folder);
  const capture = await record();
  send('2.40\r\n');
  const mark = async (kind: 'sweep-start' | 'sweep-end') => {
    await wait(20); // marks at distinct times, as a hand makes them
    valueOf(await host.handlers['captures.mark']({ capture, kind, text: '' }, neverAborted));
  };
  const sweeps = async () => sweepsOf(valueOf(await host.handlers['captures.get']({ capture }, neverAborted)).marks);
  const discard = async (fromS: number, reason = 'turned too fast') => {
    await wait(20);
    const outcome = await host.handlers['captures.voidSweep']({ capture, fromS, reason }, neverAborted);
    return outcome.ok ? 'ok' : outcome.fault.code;
  };
  const finish = async () => void valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
  return { mark, sweeps, discard, finish, stored: () => storedCapture(folder, capture) };
}

describe('discarding a sweep', () => {
  it('ends the one that is running, with the reason, and leaves room to begin again', async () => {
    const { mark, sweeps, discard } = await recordingHost();
    await mark('sweep-start');
    const [running] = await sweeps();
    expect(await discard(running!.fromS)).toBe('ok');
    const [ended] = await sweeps();
    expect(ended).toMatchObject({ isVoid: true, reason: 'turned too fast' });
    expect(ended!.toS).toBeLessThan(Infinity);
    await mark('sweep-start');
    await mark('sweep-end');
    expect((await sweeps()).map(({ isVoid }) => isVoid)).toEqual([true, false]);
  });

  it('takes the one that is named, though another has begun with its end, and does not end that', async () => {
    const { mark, sweeps, discard } = await recordingHost();
    await mark('sweep-start');
    await mark('sweep-start'); // ends the first
    const [first, second] = await sweeps();
    expect(first!.toS).toBe(second!.fromS);
    expect(await discard(first!.fromS)).toBe('ok');
    expect((await sweeps()).map(({ isVoid, toS }) => [isVoid, toS === Infinity])).toEqual([
      [true, false],
      [false, true],
    ]);
    await mark('sweep-end');
    expect((await sweeps())[1]).toMatchObject({ isVoid: false });
  });

  it('is possible in a finished capture too, added to its record and nothing changed', async () => {
    const { mark, sweeps, discard, finish, stored } = await recordingHost();
    await mark('sweep-start');
    await mark('sweep-end');
    await finish();
    const before = stored();
    const [sweep] = await sweeps();
    expect(await discard(sweep!.fromS, 'wrong gauge')).toBe('ok');
    const after = stored();
    expect(after.marks.filter(({ kind }) => kind !== 'sweep-void')).toEqual(before.marks);
    expect(sweepsOf(after.marks)).toEqual([{ ...sweep, isVoid: true, reason: 'wrong gauge' }]);
    expect({ ...after, marks: [] }).toEqual({ ...before, marks: [] });
  });

  it('is refused twice, and where there is no such sweep', async () => {
    const { mark, sweeps, discard } = await recordingHost();
    expect(await discard(1)).toBe('sweep-unknown');
    await mark('sweep-start');
    const { fromS } = (await sweeps())[0]!;
    expect(await discard(fromS)).toBe('ok');
    expect(await discard(fromS)).toBe('sweep-void');
  });
});
