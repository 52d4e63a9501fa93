import { execFileSync } from 'node:child_process';
import { writeFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { openWire } from './known-burner.ts';
import { button, expect, goTo, pilotBench, test } from './workbench.ts';

const pasted = ['#1 P1=1.234;S=4.56', '#2 P1=1.240;S=4.58', '#3 P1=1.251;S=over'].join('\n');

test('a meter that no profile fits is taught by selecting numbers, saved, and read on its port', async ({
  page,
  folder,
}) => {
  await goTo(page, 'Meters');
  await button(page, 'Teach a meter').click();
  await page.getByLabel('Lines as received').fill(pasted);
  const lines = page.getByRole('list', { name: 'Lines to select from' });

  // By mouse or touch: the pressure of the first line.
  await lines.getByRole('button', { name: '1.234', exact: true }).click();
  await button(page, 'Pilot pressure').click();
  await button(page, 'Use this value').click();
  await expect(lines.getByRole('listitem').nth(1)).toContainText('1.24 inH2O');

  // By keyboard: from there to the flame signal, in V.
  await lines.getByRole('button', { name: /1\.234/ }).focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await expect(lines.getByRole('button', { name: '4.56', exact: true })).toBeFocused();
  await page.keyboard.press('Enter');
  await button(page, 'Flame signal').click();
  await page.getByRole('dialog').getByRole('combobox', { name: 'Unit' }).selectOption('V');
  await button(page, 'Use this value').click();
  await expect(page.getByText('2 of 3 lines read')).toBeVisible();

  await lines.getByRole('button', { name: /over$/ }).click();
  await button(page, 'This means overload').click();
  await expect(page.getByText('3 of 3 lines read')).toBeVisible();
  await expect(lines.getByRole('listitem').nth(2)).toContainText('Overload');

  // Scale and offset show at once: 1.234 x 2 + 1.
  const pressure = page.getByRole('group', { name: 'Pilot pressure' });
  await pressure.getByLabel('Scale').fill('2');
  await pressure.getByLabel('Offset').fill('1');
  await expect(lines.getByRole('listitem').first()).toContainText('3.47 inH2O');
  await pressure.getByLabel('Scale').fill('');
  await pressure.getByLabel('Offset').fill('');

  // Leaving the place and coming back loses nothing.
  await goTo(page, 'Sweep');
  await goTo(page, 'Meters');
  await expect(page.getByText('3 of 3 lines read')).toBeVisible();

  await button(page, 'Save').click();
  await expect(page.getByText('Enter a name for the profile.')).toBeVisible();
  await page.getByLabel('Profile name').fill('Two in one line');
  await button(page, 'Save').click();
  await expect(page.getByText('Saved. You can choose it under “Connect a meter”.')).toBeVisible();
  const [download] = await Promise.all([page.waitForEvent('download'), button(page, 'Save as file').click()]);
  const file = join(folder, 'two.json');
  await download.saveAs(file);
  const saved: unknown = JSON.parse(readFileSync(file, 'utf8'));
  expect(saved).toMatchObject({
    name: 'Two in one line',
    line: { format: 'pattern' },
    overload: ['OL', '-OL', '----', 'over'],
  });

  const wire = await openWire(folder, 'taught');
  try {
    await button(page, 'Back to meters').click();
    await page.getByRole('radio', { name: 'Other' }).check();
    await page.getByLabel('Port name').fill(wire.near);
    await page.getByRole('combobox', { name: 'Profile' }).selectOption('Two in one line');
    await button(page, 'Connect').click();
    const card = page.getByRole('region', { name: 'Two in one line' });
    await expect(card).toContainText('Waiting for its first line');
    await page.waitForTimeout(200);
    wire.write('#7 P1=2.310;S=4.60\r\n');
    await expect(card.getByRole('region', { name: 'Pilot pressure' })).toContainText('2.31');
    await expect(card.getByRole('region', { name: 'Flame signal' })).toContainText('4.60');

    // The command accepts the saved file, and the capture contains the profile it was read with.
    await button(page, 'Disconnect').click();
    await expect(card).toBeHidden();
    const sending = setInterval(() => wire.write('#8 P1=2.320;S=4.61\r\n'), 50);
    const visit = join(folder, 'taught.zip');
    const record = ['record', '--instrument', `${wire.near}=${file}`, '--for', '1s', '--out', visit];
    await pilotBench(...record, '--data', join(folder, 'other')).finally(() => clearInterval(sending));
    const stored = execFileSync('unzip', ['-p', visit, 'datapackage.json']).toString();
    const meters = (JSON.parse(stored) as { pilotBench: { meters: unknown } }).pilotBench.meters;
    expect(meters).toEqual([{ port: wire.near, profile: 'Two in one line', reads: saved }]);
  } finally {
    wire.close();
  }
});

test('a connected meter whose lines are not readable is taught from its own lines', async ({ page, folder }) => {
  const wire = await openWire(folder, 'strange');
  try {
    await goTo(page, 'Meters');
    await page.getByRole('radio', { name: 'Other' }).check();
    await page.getByLabel('Port name').fill(wire.near);
    await page.getByLabel('Port name').press('Enter');
    const card = page.getByRole('region', { name: 'Manometer, one number a line', exact: true });
    await expect(card).toContainText('Waiting for its first line');
    for (let n = 1; n <= 8; n += 1) wire.write(`12:00:0${n}\t2,3${n}\r\n`);
    await button(page, 'Teach from these lines').click();
    const lines = page.getByRole('list', { name: 'Lines to select from' });
    await lines.getByRole('button', { name: '2,36', exact: true }).click();
    await button(page, 'Pilot pressure').click();
    await page.getByRole('dialog').getByRole('combobox', { name: 'Unit' }).selectOption('mbar');
    await button(page, 'Use this value').click();
    await expect(page.getByText('8 of 8 lines read')).toBeVisible();
    await page.getByLabel('Profile name').fill('Clock and number');
    await button(page, `Save and use on ${wire.near}`).click();
    await button(page, 'Back to meters').click();
    const taught = page.getByRole('region', { name: 'Clock and number' });
    await expect(taught).toContainText('Waiting for its first line');
    wire.write('12:00:09\t2,39\r\n12:00:10\t2,40\r\n');
    await expect(taught).toContainText('Live');
    await expect(taught.getByRole('region', { name: 'Pilot pressure' })).toContainText('2.40');
  } finally {
    wire.close();
  }
});

test('a wrong profile file is refused in a sentence, and removing a profile asks first', async ({ page, folder }) => {
  await goTo(page, 'Meters');
  await button(page, 'Teach a meter').click();
  const open = async (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    await page.getByLabel('Profile file', { exact: true }).setInputFiles(join(folder, name));
  };
  await open('notes.json', 'my notes');
  await expect(page.getByRole('alert')).toContainText(
    'The profile "notes.json" cannot be used: it is no JSON: line 1, column 1: a value belongs there, not "m".',
  );
  await open('volts.json', JSON.stringify({ name: 'x', line: { format: 'number' }, channels: [{ role: 'pilot_pressure', unit: 'V' }] })); // prettier-ignore
  await expect(page.getByRole('alert')).toContainText('pilot_pressure cannot be in V');

  await open('good.json', JSON.stringify({ name: 'Old gauge', line: { format: 'number' }, channels: [{ role: 'pilot_pressure', unit: 'Pa' }] })); // prettier-ignore
  await expect(page.getByLabel('Profile name')).toHaveValue('Old gauge');
  await expect(page.getByText('is not recognized')).toBeHidden();
  await open('good.json', JSON.stringify({ name: 'Old gauge', line: { format: 'number' }, channels: [{ role: 'pilot_pressure', unit: 'Pa', scal: 2 }] })); // prettier-ignore
  await expect(page.getByText('good.json: the key channels.0.scal is not recognized and was ignored.')).toBeVisible();
  await button(page, 'Save').click();
  const own = page.getByRole('group', { name: 'Old gauge' });
  await own.getByRole('button', { name: 'Remove' }).click();
  await button(page, 'Keep it').click();
  await expect(own).toBeVisible();
  await own.getByRole('button', { name: 'Remove' }).click();
  await button(page, 'Remove it').click();
  await expect(own).toBeHidden();
});

test('the first lines of a long pasted file are used, without delay', async ({ page }) => {
  await goTo(page, 'Meters');
  await button(page, 'Teach a meter').click();
  const field = page.getByLabel('Lines as received');
  await field.evaluate(
    (element, text) => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text', text);
      element.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
    },
    Array.from({ length: 20_000 }, (_, n) => `P=${n}.5`).join('\n'),
  );
  await expect(field).toHaveValue(Array.from({ length: 40 }, (_, n) => `P=${n}.5`).join('\n'));
});
