import { expect, it } from 'vitest';
import { extractStyles } from '../../../renderer/proof/extract-styles.ts';

it('moves every style out of the markup and leaves the text alone', () => {
  const html =
    '<head><style>body, main { color: red }\n.body { margin: 0 }</style></head>' +
    '<body><p style="width:3px">a style="x" b</p><col span="2" style="width:9%"></body>';
  expect(extractStyles(html)).toEqual({
    markup: '<head></head><body><p data-style="width:3px">a style="x" b</p><col span="2" data-style="width:9%"></body>',
    sheet: ':host, main { color: red }\n.body { margin: 0 }',
  });
});
