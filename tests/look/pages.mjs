// Pages in a browser: accessibility rules, light and dark, narrow and wide, without scripts, printed; and their
// markup by two validators.
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { HtmlValidate } from 'html-validate';
import { chromium } from 'playwright-core';
import { check, fault } from './judge.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const axeSource = readFileSync(join(here, 'node_modules/axe-core/axe.min.js'), 'utf8');
const axeTags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
// What the rules cannot judge, with the reason why that is right. Everything else that is "incomplete" is a fault.
const incompleteForAReason = {
  // Text in a picture: the contrast of each pair of colours is computed in tests/unit/markup_test.cpp. Text of a
  // table that is wider than a phone and scrolls: what is out of sight has the colours of the rest, which are
  // judged at 1280. A single letter or digit, or a name of pictures only: the same.
  'color-contrast': (node, width) =>
    node.html.startsWith('<text') || ['shortTextContent', 'nonBmp'].includes(node.any[0]?.data?.messageKey) ||
    (width === 320 && ['elmPartiallyObscured', 'outsideViewport'].includes(node.any[0]?.data?.messageKey)),
};

export const launch = () => chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});

async function axe(page, where, width) {
  await page.evaluate(axeSource);
  const found = await page.evaluate((tags) => globalThis.axe.run({ runOnly: tags, resultTypes: ['violations', 'incomplete'] }), axeTags);
  check(found.passes.length > 10, where, 'the accessibility rules looked at nothing');
  for (const rule of found.violations) fault(where, `${rule.id}: ${rule.help} (${rule.nodes[0].html})`);
  for (const rule of found.incomplete) {
    const known = incompleteForAReason[rule.id] ?? (() => false);
    const unknown = rule.nodes.filter((node) => !known(node, width));
    check(unknown.length === 0, where, `cannot be judged: ${rule.id}, ${unknown.length} times: ${unknown[0]?.any[0]?.data?.messageKey}: ${unknown[0]?.html}`);
  }
}

export async function lookAt(browser, file, where, colorScheme, width) {
  const name = `${where} ${colorScheme} ${width}`;
  const context = await browser.newContext({ bypassCSP: true, colorScheme, viewport: { width, height: 900 } });
  const page = await context.newPage();
  const requests = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('console', (message) => fault(name, `the console says: ${message.text()}`));
  await page.goto(pathToFileURL(file).href);
  check(requests.length === 1, name, `asks for ${requests.slice(1).join(', ')}`);
  check((await page.title()) !== 'run', name, 'a name was run as a script');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  check(wide <= width, name, `is ${wide} wide: the page itself scrolls sideways`);
  await axe(page, name, width);
  await page.screenshot({ path: file.replace('.html', `-${colorScheme}-${width}.png`), fullPage: true });
  await context.close();
}

export async function withoutScripts(browser, file, where) {
  const words = async (javaScriptEnabled) => {
    const context = await browser.newContext({ javaScriptEnabled });
    const page = await context.newPage();
    await page.goto(pathToFileURL(file).href);
    const text = await page.locator('body').innerText();
    await context.close();
    return text;
  };
  check((await words(false)) === (await words(true)), where, 'is not the same without scripts');
}

// Printed pages as text.
export async function print(browser, file, format) {
  const pdf = file.replace(/\.\w+$/, `-${format}.pdf`);
  const page = await browser.newPage();
  await page.goto(pathToFileURL(file).href);
  await page.pdf({ path: pdf, format, preferCSSPageSize: true, tagged: true });
  await page.close();
  return execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' }).split('\f').filter((text) => text.trim());
}

export function validate(file, where) {
  const report = new HtmlValidate({
    extends: ['html-validate:recommended'],
    rules: { 'no-inline-style': 'error', 'long-title': 'off' },
  }).validateFileSync(file);
  check(report.valid, where, 'html-validate finds faults');
  for (const result of report.results) {
    for (const message of result.messages) fault(where, `html-validate ${message.ruleId}: ${message.message} (line ${message.line})`);
  }
}

// The Nu checker takes seconds to start: all files at once. It does not know two properties that the browser does.
export function validateAll(files) {
  const jar = join(here, 'node_modules/vnu-jar/build/dist/vnu.jar');
  const nu = spawnSync('java', ['-jar', jar, '--Werror', '--filterpattern', '.*(text-wrap|paint-order).*', ...files], { encoding: 'utf8', maxBuffer: 1 << 26 });
  check(nu.status === 0, `${files.length} pages`, `the Nu checker: ${nu.stderr || nu.error}`);
}
