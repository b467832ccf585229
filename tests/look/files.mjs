// Calendars, sheets and JSON in the hands of foreign readers.
import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Ajv from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { parse } from 'csv-parse/sync';
import ICAL from 'ical.js';
import { check } from './judge.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const json = (path) => JSON.parse(readFileSync(path, 'utf8'));

function python(words, where) {
  const run = spawnSync('/usr/bin/python3', [join(here, 'foreign.py'), ...words], { encoding: 'utf8', maxBuffer: 1 << 26 });
  check(run.status === 0, where, `${run.stdout}${run.stderr}`);
}

// ical.js here, python3-icalendar and libical there.
export function judgeCalendar(file, where) {
  const text = readFileSync(file, 'utf8');
  const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one));
  check(events.length > 5, where, `ical.js finds ${events.length} events`);
  check(new Set(events.map((event) => event.uid)).size === events.length, where, 'ical.js: two events of one UID');
  for (const event of events) {
    check(event.startDate.zone === ICAL.Timezone.localTimezone, where, `ical.js: ${event.uid} is bound to a time zone`);
    check(event.duration.toSeconds() > 0, where, `ical.js: ${event.uid} takes no time`);
  }
  python(['calendar', file, String(events.length)], where);
}

function readTable(file) {
  return parse(readFileSync(file), { columns: true, record_delimiter: '\r\n' });
}

function noFormulas(rows, where) {
  for (const row of rows)
    for (const cell of Object.values(row)) check(!/^[-=+@\t\r]/.test(cell), where, `a spreadsheet would run ${cell}`);
}

export function judgeCandidateSheets(folder, where) {
  const rows = readTable(join(folder, 'plan.csv'));
  const blocks = json(join(folder, 'plan.json')).weeks.flatMap((week) => week.days.flatMap((day) => day.blocks));
  // Fixed work and practice tests have rows of their own among those of the blocks.
  const planned = rows.filter((row) => row.size !== 'fixed' && row.size !== 'note');
  check(planned.length === blocks.length, where, `csv-parse reads ${planned.length} rows of ${blocks.length} blocks`);
  planned.forEach((row, i) => check(row.prescription === blocks[i]?.prescription, where, `row ${i + 1} is not its block`));
  noFormulas(rows, where);
  python(['workbook', join(folder, 'plan.xlsx'), 'Days', String(rows.length)], where);
}

export function judgeSquadSheets(folder, where) {
  const rows = readTable(join(folder, 'squad.csv'));
  const programme = json(join(folder, 'programme.json'));
  const visits = programme.mornings.flatMap((morning) => morning.stations.flatMap((station) => [...new Set(station.turns.map((turn) => turn.id))]));
  const extras = programme.people.flatMap((person) => person.extra);
  const all = visits.length + extras.length;
  check(rows.length === all, where, `csv-parse reads ${rows.length} rows of ${all}`);
  const names = new Set(programme.people.map((person) => person.display));
  for (const row of rows) check(names.has(row.who.replace(/^'(?=[=+\-@])/, '')), where, `nobody is called ${row.who}`);
  noFormulas(rows, where);
  python(['workbook', join(folder, 'squad.xlsx'), 'All mornings', String(all)], where);
}

// Each answer by the part of the published schema that it is promised to be: by ajv here, by python3-jsonschema
// there. `answers`: [name, text, "file.schema.json#/place"].
export function judgeAnswers(answers, schemas, out) {
  const ajv = addFormats(new Ajv({ allErrors: true, strict: false }));
  for (const name of readdirSync(schemas)) ajv.addSchema(json(join(schemas, name)), name);
  const list = answers.map(([name, text, schema], i) => {
    const file = join(out, `answer-${i}.json`);
    writeFileSync(file, text);
    const judge = ajv.compile({ $ref: schema });
    check(judge(JSON.parse(text)), name, `ajv: ${ajv.errorsText(judge.errors)}`);
    return { name, file, schema };
  });
  writeFileSync(join(out, 'answers.json'), JSON.stringify(list));
  python(['answers', join(out, 'answers.json'), schemas], `${list.length} answers by python3-jsonschema`);
}
