// What backplan writes, as others see it: pages in a browser (accessibility rules, light and dark, narrow and
// wide, without scripts, printed), markup by two validators, calendars, sheets and plans by foreign readers.
//   node look.mjs PROGRAM OUTPUT_FOLDER
// Every fault is printed; the exit code says whether there was one. Screenshots and prints stay in the folder.
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import Ajv from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { parse } from 'csv-parse/sync';
import { HtmlValidate } from 'html-validate';
import ICAL from 'ical.js';
import { chromium } from 'playwright-core';

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, '../..');
const [program, out] = process.argv.slice(2).map((path) => resolve(path));
const asOf = '2026-12-01'; // data/demo/README.md
const axeSource = readFileSync(join(here, 'node_modules/axe-core/axe.min.js'), 'utf8');
const axeTags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
// What the rules cannot judge, with the reason why that is right. Everything else that is "incomplete" is a fault.
const incompleteForAReason = {
  // Text in a picture: the contrast of each pair of colours is computed in tests/unit/markup_test.cpp. Text of a
  // table that is wider than a phone and scrolls: what is out of sight has the colours of the rest, which are
  // judged at 1280. A single letter or digit: the same.
  'color-contrast': (node, width) =>
    node.html.startsWith('<text') || node.any[0]?.data?.messageKey === 'shortTextContent' ||
    (width === 320 && ['elmPartiallyObscured', 'outsideViewport'].includes(node.any[0]?.data?.messageKey)),
};
const faults = [];
const fault = (where, what) => faults.push(`${where}: ${what}`);
let checks = 0;
const check = (good, where, what) => {
  checks += 1;
  if (!good) fault(where, what);
};

function backplan(...words) {
  const run = spawnSync(program, [...words, '--as-of', asOf], { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status > 1) throw new Error(`backplan ${words.join(' ')}: ${run.stderr}`);
  return run.stdout;
}

// A candidate whose name is an attack, beside the two of the demonstration.
function candidates() {
  rmSync(out, { recursive: true, force: true });
  mkdirSync(out, { recursive: true });
  for (const who of ['rowan', 'hazel']) cpSync(join(root, 'data/demo', who), join(out, who), { recursive: true });
  const odd = JSON.parse(readFileSync(join(out, 'rowan/candidate.json'), 'utf8'));
  odd.id = `<script>document.title='run'</script>"'&\u05e9\u05dc\u05d5\u05dd \u{1F3C3} `.slice(0, 64);
  mkdirSync(join(out, 'odd'));
  writeFileSync(join(out, 'odd/candidate.json'), JSON.stringify(odd));
  return ['rowan', 'hazel', 'odd'];
}

function exports(who) {
  const folder = join(out, who);
  backplan('plan', '-C', folder);
  if (who === 'rowan') {
    backplan('log', 'deadlift', '--set', '5@140', '--set', '5@140', '--in-reserve', '3', '-C', folder);
    backplan('log', 'result', 'HRP', '34', '--setting', 'practice', '-C', folder);
  }
  const file = (name) => join(folder, name);
  backplan('export', 'html', '-C', folder, '-o', file('plan.html'));
  backplan('export', 'html', '--week', '6', '-C', folder, '-o', file('week.html'));
  backplan('export', 'ics', '-C', folder, '-o', file('plan.ics'));
  backplan('export', 'ics', '--at', '06:30', '--alarms', '-C', folder, '-o', file('timed.ics'));
  backplan('export', 'csv', '-C', folder, '-o', file('plan.csv'));
  backplan('export', 'xlsx', '-C', folder, '-o', file('plan.xlsx'));
}

async function axe(page, where, width) {
  await page.evaluate(axeSource);
  const found = await page.evaluate((tags) => globalThis.axe.run({ runOnly: tags }), axeTags);
  check(found.passes.length > 10, where, 'the accessibility rules looked at nothing');
  for (const rule of found.violations) fault(where, `${rule.id}: ${rule.help} (${rule.nodes[0].html})`);
  for (const rule of found.incomplete) {
    const known = incompleteForAReason[rule.id] ?? (() => false);
    const unknown = rule.nodes.filter((node) => !known(node, width));
    check(unknown.length === 0, where, `cannot be judged: ${rule.id}, ${unknown.length} times: ${unknown[0]?.any[0]?.data?.messageKey}: ${unknown[0]?.html}`);
  }
}

async function lookAt(browser, file, where, widths, schemes) {
  for (const colorScheme of schemes) {
    for (const width of widths) {
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
  }
}

async function withoutScripts(browser, file, where) {
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
async function print(browser, file, format) {
  const pdf = file.replace('.html', `-${format}.pdf`);
  const page = await browser.newPage();
  await page.goto(pathToFileURL(file).href);
  await page.pdf({ path: pdf, format, preferCSSPageSize: true, tagged: true });
  await page.close();
  return execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' }).split('\f').filter((text) => text.trim());
}

async function onPaper(browser, folder, where) {
  const weeks = JSON.parse(readFileSync(join(folder, 'plan.json'), 'utf8')).weeks.map((week) => week.index);
  for (const format of ['Letter', 'A4']) {
    check((await print(browser, join(folder, 'week.html'), format)).length === 1, `${where} ${format}`, 'a week is not one page');
    const pages = await print(browser, join(folder, 'plan.html'), format);
    for (const week of weeks) {
      const head = new RegExp(`Week ${week}: from`);
      const holding = pages.filter((text) => head.test(text));
      check(holding.length === 1, `${where} ${format}`, `week ${week} is on ${holding.length} pages`);
      const others = weeks.filter((other) => other !== week && new RegExp(`Week ${other}: from`).test(holding[0] ?? ''));
      check(others.length === 0, `${where} ${format}`, `week ${week} shares its page with week ${others}`);
      check(/Expected by its end|No training this week|blocked/.test(holding[0] ?? ''), `${where} ${format}`, `week ${week} does not end on its page`);
    }
  }
}

function validators(file, where) {
  const report = new HtmlValidate({
    extends: ['html-validate:recommended'],
    rules: { 'no-inline-style': 'error', 'long-title': 'off' },
  }).validateFileSync(file);
  for (const result of report.results) {
    for (const message of result.messages) fault(where, `html-validate ${message.ruleId}: ${message.message} (line ${message.line})`);
  }
  checks += 1;
  const jar = join(here, 'node_modules/vnu-jar/build/dist/vnu.jar');
  const nu = spawnSync('java', ['-jar', jar, '--Werror', '--filterpattern', '.*text-wrap.*', file], { encoding: 'utf8' });
  check(nu.status === 0, where, `the Nu checker: ${nu.stderr || nu.error}`);
}

function calendar(file, where) {
  const text = readFileSync(file, 'utf8');
  const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
  check(events.length > 5, where, `ical.js finds ${events.length} events`);
  check(new Set(events.map((event) => event.uid)).size === events.length, where, 'ical.js: two events of one UID');
  for (const event of events) {
    check(event.startDate.zone === ICAL.Timezone.localTimezone, where, `ical.js: ${event.uid} is bound to a time zone`);
    check(event.duration.toSeconds() > 0, where, `ical.js: ${event.uid} takes no time`);
  }
  const others = spawnSync('/usr/bin/python3', [join(here, 'foreign.py'), 'calendar', file, String(events.length)], { encoding: 'utf8' });
  check(others.status === 0, where, `python3-icalendar: ${others.stdout}${others.stderr}`);
}

function sheets(folder, where) {
  const rows = parse(readFileSync(join(folder, 'plan.csv')), { columns: true, record_delimiter: '\r\n' });
  const plan = JSON.parse(readFileSync(join(folder, 'plan.json'), 'utf8'));
  const blocks = plan.weeks.flatMap((week) => week.days.flatMap((day) => day.blocks));
  check(rows.length === blocks.length, where, `csv-parse reads ${rows.length} rows of ${blocks.length} blocks`);
  rows.forEach((row, i) => check(row.prescription === blocks[i].prescription, where, `row ${i + 1} is not its block`));
  const read = spawnSync('/usr/bin/python3', [join(here, 'foreign.py'), 'workbook', join(folder, 'plan.xlsx'), String(blocks.length)], { encoding: 'utf8' });
  check(read.status === 0, where, `python3-openpyxl: ${read.stdout}${read.stderr}`);
}

function schema(folder, where) {
  const ajv = addFormats(new Ajv({ allErrors: true, strict: false }));
  const judge = ajv.compile(JSON.parse(readFileSync(join(root, 'data/schema/plan.schema.json'), 'utf8')));
  check(judge(JSON.parse(readFileSync(join(folder, 'plan.json'), 'utf8'))), where, `ajv: ${ajv.errorsText(judge.errors)}`);
}

const who = candidates();
const browser = await chromium.launch({
  executablePath: '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
for (const one of who) {
  const folder = join(out, one);
  exports(one);
  for (const name of readdirSync(folder).filter((name) => name.endsWith('.html'))) {
    const whole = one === 'rowan'; // the others differ in their words only
    await lookAt(browser, join(folder, name), `${one}/${name}`, whole ? [320, 1280] : [320], whole ? ['light', 'dark'] : ['light']);
    await withoutScripts(browser, join(folder, name), `${one}/${name}`);
    validators(join(folder, name), `${one}/${name}`);
  }
  await onPaper(browser, folder, one);
  for (const name of ['plan.ics', 'timed.ics']) calendar(join(folder, name), `${one}/${name}`);
  sheets(folder, one);
  schema(folder, one);
}
await browser.close();
for (const text of faults) console.error(`fault: ${text}`);
console.log(`${checks} checks, ${faults.length} faults; pictures and prints in ${out}`);
process.exit(faults.length === 0 ? 0 : 1);
