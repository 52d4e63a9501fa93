import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { createHost } from '../../electron/host/host.ts';
import { storeFile } from '../../electron/host/store/store-file.ts';
import { storedCapture, lineTexts } from '../host/test-host.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { wait } from '../helpers/wait-until.ts';

const recording = fileURLToPath(new URL('recording-process.ts', import.meta.url));
const many = 150_000;

// More than any computer decodes in that time, so that most of it is still raw; the kill comes anywhere in a turn of storing.
it.each([400, 437, 471])(
  'a kill %i ms after a flood loses none of its lines: the next start decodes the raw bytes',
  async (afterMs) => {
    const folder = testFolder();
    const child = spawn(process.execPath, [recording, folder], { stdio: ['pipe', 'pipe', 'inherit'] });
    const ended = new Promise((resolve) => {
      child.once('close', resolve);
    });
    const output = await new Promise<string>((resolve) => {
      child.stdout.once('data', (text: Buffer) => resolve(text.toString()));
    });
    const id = output.split('\n')[0]!.replace('recording ', '');
    const sent = Array.from({ length: many }, (_, n) => `${n}\r\n`).join('');
    // The time counts from the arrival of the last byte: up to there the pipe holds 64 kB itself (pipe(7)), which no program can store.
    const allArrived = new Promise<void>((resolve) => {
      let said = '';
      child.stdout.on('data', (text: Buffer) => {
        said += text.toString();
        if (said.includes(`arrived ${sent.length}\n`)) resolve();
      });
    });
    child.stdin.write(sent);
    await allArrived;
    await wait(afterMs);
    child.kill('SIGKILL');
    await ended;

    const db = new Database(storeFile(folder));
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    db.close();
    const host = createHost({ dataFolder: folder, practice: false, version: 'test', host: 'command' });
    if (!host.ok) throw new Error(host.fault.message);
    await host.value.close();
    const capture = storedCapture(folder, id);
    expect(capture.status).toBe('interrupted');
    expect(lineTexts(capture).map(Number)).toEqual(Array.from({ length: many }, (_, n) => n));
    expect(capture.readings).toHaveLength(many);
    expect(capture.readings.every(({ value, raw }) => value === Number(raw))).toBe(true);
  },
  60_000,
);
