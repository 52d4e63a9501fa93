import { describe, expect, it } from 'vitest';
import { dataFolder } from '../../electron/host/files/data-folder.ts';

const linux = { platform: 'linux', env: {}, home: '/home/ada', workingFolder: '/here' } as const;
const windows = { platform: 'win32', env: {}, home: 'C:\\Users\\ada', workingFolder: 'C:\\work' } as const;

describe('the data folder', () => {
  it.each([
    ['Linux', linux, '/home/ada/.local/share/pilot-bench'],
    ['Linux with XDG_DATA_HOME', { ...linux, env: { XDG_DATA_HOME: '/data' } }, '/data/pilot-bench'],
    // XDG Base Directory Specification 0.8: "All paths set in these environment variables must be absolute."
    [
      'Linux with a relative XDG_DATA_HOME',
      { ...linux, env: { XDG_DATA_HOME: 'data' } },
      '/home/ada/.local/share/pilot-bench',
    ],
    [
      'macOS',
      { ...linux, platform: 'darwin', home: '/Users/ada' } as const,
      '/Users/ada/Library/Application Support/Pilot Bench',
    ],
    ['Windows', { ...windows, env: { APPDATA: 'D:\\Roaming' } }, 'D:\\Roaming\\Pilot Bench'],
    ['Windows without APPDATA', windows, 'C:\\Users\\ada\\AppData\\Roaming\\Pilot Bench'],
  ])('is the place for a user’s data on %s', (_system, platformFacts, folder) => {
    expect(dataFolder(undefined, platformFacts)).toBe(folder);
  });

  it('is that of the environment when it is set, and the chosen one before all', () => {
    const platformFacts = { ...linux, env: { PILOT_BENCH_DATA: '/env', XDG_DATA_HOME: '/data' } };
    expect(dataFolder(undefined, platformFacts)).toBe('/env');
    expect(dataFolder('/chosen', platformFacts)).toBe('/chosen');
  });

  it('resolves a chosen folder from the working folder', () => {
    expect(dataFolder('visits', linux)).toBe('/here/visits');
    expect(dataFolder('visits', windows)).toBe('C:\\work\\visits');
  });

  it('ignores an empty setting', () => {
    expect(dataFolder('', { ...linux, env: { PILOT_BENCH_DATA: '' } })).toBe('/home/ada/.local/share/pilot-bench');
  });
});
