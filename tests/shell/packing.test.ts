import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const packing = readFileSync(new URL('../../electron-builder.yml', import.meta.url), 'utf8');

// Packing itself needs Electron's binary and is not tested; these tests keep its settings.
describe('the packing', () => {
  // Source of the settings: Electron's documentation (tutorial/fuses), points 19 of its security checklist.
  it.each([
    ['runAsNode', false],
    ['enableNodeOptionsEnvironmentVariable', false],
    ['enableNodeCliInspectArguments', false],
    ['enableCookieEncryption', true],
    ['enableEmbeddedAsarIntegrityValidation', true],
    ['onlyLoadAppFromAsar', true],
    ['grantFileProtocolExtraPrivileges', false],
  ])('sets the fuse %s to %s', (fuse, setting) => {
    expect(packing.match(new RegExp(`^  ${fuse}: (\\w+)$`, 'm'))?.[1]).toBe(String(setting));
  });

  it('is not made the first program for zip and CSV files, which belong to others as well', () => {
    const [, windows] = packing.split(/^win:$/m);
    expect(windows).not.toContain('fileAssociations');
    expect(packing.match(/rank: (\w+)/g)).toEqual(['rank: Alternate', 'rank: Alternate']);
  });

  it('is offered under "Open with" on Windows, and takes back in the end what it wrote', () => {
    expect(packing).toMatch(/^ {2}include: build\/installer\.nsh$/m);
    const script = readFileSync(new URL('../../build/installer.nsh', import.meta.url), 'utf8');
    const [, offers = '', takesBack = ''] =
      /!macro offerFor\b(.*?)!macroend.*!macro offerNoLongerFor\b(.*?)!macroend/su.exec(script)!;
    const written = [...offers.matchAll(/WriteRegStr SHELL_CONTEXT "([^"]+)" "([^"]*)"/g)].map(([, key, name]) => ({
      key: key!,
      name: name!,
    }));
    expect(written).toHaveLength(4);
    for (const { key, name } of written) {
      // The default value of an extension names its first program; only a name below OpenWithProgids merely offers one.
      if (key.includes('\\.$')) {
        expect(key).toMatch(/\\\.\$\{EXTENSION\}\\OpenWithProgids$/u);
        expect(takesBack).toContain(`DeleteRegValue SHELL_CONTEXT "${key}" "${name}"`);
      } else expect(key).toMatch(/^Software\\Classes\\\$\{CLASS\}/u);
    }
    expect(takesBack).toContain('DeleteRegKey SHELL_CONTEXT "Software\\Classes\\${CLASS}"');
    for (const extension of ['zip', 'csv']) {
      expect(script).toContain(`!insertmacro offerFor ${extension} `);
      expect(script).toContain(`!insertmacro offerNoLongerFor ${extension} `);
    }
  });

  it('has an icon in every size that its name says', () => {
    const folder = new URL('../../build/icons/', import.meta.url);
    const pictures = readdirSync(folder).filter((name) => name.endsWith('.png'));
    expect(pictures.length).toBeGreaterThanOrEqual(8);
    for (const name of pictures) {
      const bytes = readFileSync(new URL(name, folder));
      // PNG (W3C REC-png): width and height are the first two numbers of IHDR, at byte 16.
      expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}.png`).toBe(name);
    }
    for (const [, path] of packing.matchAll(/icon: build\/icons\/(.+)$/gm)) expect(pictures).toContain(path);
  });
});
