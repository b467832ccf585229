// What backplan writes, as others see it: pages in a browser (accessibility rules, light and dark, narrow and
// wide, without scripts, printed), markup by two validators, calendars, sheets and JSON by foreign readers.
//   node look.mjs PROGRAM OUTPUT_FOLDER
// Every fault is printed, then a count; the exit code says whether there was one. Screenshots and prints stay in
// the folder.
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { answersOf } from './answers.mjs';
import { judgeAnswers, judgeCalendar, judgeCandidateSheets, judgeSquadSheets } from './files.mjs';
import { checks, faults } from './judge.mjs';
import { launch, lookAt, validate, validateAll, withoutScripts } from './pages.mjs';
import { candidateOnPaper, squadOnPaper } from './paper.mjs';
import { Subjects } from './subjects.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const [program, out] = process.argv.slice(2).map((path) => resolve(path));
const began = Date.now();
const stage = (name) => console.log(`${((Date.now() - began) / 1000).toFixed(0).padStart(4)} s  ${name}`);

// Every report in both schemes, narrow and wide; those that differ in their words only, at two corners.
const whole = ['light', 'dark'].flatMap((scheme) => [320, 1280].map((width) => [scheme, width]));
const corners = [['light', 320], ['dark', 1280]];

const subjects = new Subjects(program, root, out);
const candidates = { rowan: whole, hazel: corners, odd: corners };
const squads = { larch: whole, 'odd-larch': corners };
for (const name of Object.keys(candidates)) subjects.candidate(name, name === 'odd' ? 'rowan' : name);
for (const name of Object.keys(squads)) subjects.squad(name, 'larch');
stage('everything is exported');

const browser = await launch();
const pages = [];
const tasks = [];
function look(name, file, looks) {
  const path = join(out, name, file);
  const where = `${name}/${file}`;
  for (const [scheme, width] of looks) tasks.push(() => lookAt(browser, path, where, scheme, width));
  tasks.push(() => withoutScripts(browser, path, where), async () => validate(path, where));
  pages.push(path);
}
for (const [name, looks] of Object.entries(candidates)) {
  look(name, 'plan.html', looks);
  look(name, 'week.html', looks);
  tasks.push(() => candidateOnPaper(browser, join(out, name), name));
}
for (const [name, looks] of Object.entries(squads)) {
  look(name, 'squad.html', looks);
  look(name, 'week.html', looks);
  tasks.push(() => squadOnPaper(browser, join(out, name), name));
}
// Two at a time: a page waits for its pictures while another one is read.
async function work() {
  for (let task = tasks.shift(); task; task = tasks.shift()) await task();
}
await Promise.all([work(), work()]);
await browser.close();
stage(`${pages.length} pages, on screen and on paper`);
validateAll(pages);
stage('the markup');

for (const name of Object.keys(candidates)) {
  for (const file of ['plan.ics', 'timed.ics']) judgeCalendar(join(out, name, file), `${name}/${file}`);
  judgeCandidateSheets(join(out, name), name);
}
for (const name of Object.keys(squads)) {
  for (const file of ['squad.ics', 'timed.ics', 'person.ics']) judgeCalendar(join(out, name, file), `${name}/${file}`);
  judgeSquadSheets(join(out, name), name);
}
stage('calendars and sheets');
judgeAnswers(answersOf(subjects, Object.keys(candidates), Object.keys(squads)), join(root, 'data/schema'), out);
stage('answers in JSON');

for (const text of faults) console.error(`fault: ${text}`);
console.log(`${checks} checks, ${faults.length} faults; pictures and prints in ${out}`);
process.exit(faults.length === 0 ? 0 : 1);
