// What is promised of paper: a candidate's week, a squad's morning and the sheet of the test day are a page each,
// personal sheets are several to a page, in Letter and in A4.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { check } from './judge.mjs';
import { print } from './pages.mjs';

const formats = ['Letter', 'A4'];
const days = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

// Each of `heads` begins on one page, alone, and `end` stands on the same page.
function eachOnOnePage(pages, heads, end, where) {
  for (const head of heads) {
    const holding = pages.filter((text) => text.includes(head));
    check(holding.length === 1, where, `"${head}" is on ${holding.length} pages`);
    const others = heads.filter((other) => other !== head && holding[0]?.includes(other));
    check(others.length === 0, where, `"${head}" shares its page with "${others[0]}"`);
    check(end.test(holding[0] ?? ''), where, `"${head}" does not end on its page`);
  }
}

export async function candidateOnPaper(browser, folder, where) {
  const weeks = JSON.parse(readFileSync(join(folder, 'plan.json'), 'utf8')).weeks.map((week) => `Week ${week.index}: from`);
  for (const format of formats) {
    const name = `${where} ${format}`;
    check((await print(browser, join(folder, 'week.html'), format)).length === 1, name, 'a week is not one page');
    eachOnOnePage(await print(browser, join(folder, 'plan.html'), format), weeks, /Expected by its end|No training this week|blocked/, name);
    check((await print(browser, join(folder, 'testday.txt'), format)).length === 1, name, 'the test day is not one page');
  }
}

function headOf(morning) {
  const date = new Date(`${morning.date}T00:00:00Z`);
  return `${days[date.getUTCDay()]} ${date.getUTCDate()} ${months[date.getUTCMonth()]} ${date.getUTCFullYear()}, ${morning.minutes} min`;
}

export async function squadOnPaper(browser, folder, where) {
  const programme = JSON.parse(readFileSync(join(folder, 'programme.json'), 'utf8'));
  for (const format of formats) {
    for (const file of ['squad.html', 'week.html']) {
      const name = `${where}/${file} ${format}`;
      const html = readFileSync(join(folder, file), 'utf8');
      const heads = programme.mornings.filter((one) => html.includes(`id="morning-${one.date}"`)).map(headOf);
      check(heads.length > 1, name, `has ${heads.length} mornings`);
      const pages = await print(browser, join(folder, file), format);
      eachOnOnePage(pages, heads, /dark urine/, name);
      const sheets = pages.filter((text) => /test on .*\(in /.test(text) && !heads.some((head) => text.includes(head)));
      check(sheets.length > 0 && 2 * sheets.length <= programme.people.length, name, `${programme.people.length} personal sheets on ${sheets.length} pages`);
    }
  }
}
