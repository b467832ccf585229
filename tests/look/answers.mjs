// Everything that answers with JSON, and what the published schemas promise of it.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const day = '2026-12-03';
const short = (name) => `answers.schema.json#/$defs/${name}`;

function ofCandidate(subjects, name) {
  const folder = join(subjects.out, name);
  const file = (one) => readFileSync(join(folder, one), 'utf8');
  const run = (...words) => subjects.run([...words, '--json'], folder);
  const answers = [
    ['candidate.json', file('candidate.json'), 'candidate.schema.json'],
    ['score', run('score'), 'score.schema.json'],
    ['yield', run('yield'), 'yield.schema.json'],
    ['plan.json', file('plan.json'), 'plan.schema.json'],
    ['show --all', run('show', '--all'), 'plan.schema.json'],
    ['testday', run('testday'), 'testday.schema.json'],
    ['testday in heat', run('testday', '--heat', '29C', '--altitude', '1800m', '--aim', '2MR=17:00'), 'testday.schema.json'],
    ['replan', run('replan'), 'replan.schema.json'],
    ['plan', run('plan'), 'plan.schema.json'],
    ['show', run('show'), short('show_week')],
    ['show --today', run('show', '--today'), short('show_day')],
    ['show --assumptions', run('show', '--assumptions'), short('show_assumptions')],
    ['log', run('log', 'pain', 'shin', '--level', '1'), short('log')],
    ['log --list', run('log', '--list'), short('log_list')],
    ['export', run('export', 'csv', '-o', join(folder, 'again.csv')), short('export')],
  ];
  if (name === 'rowan') {
    for (const line of file('journal.jsonl').trim().split('\n').slice(1))
      answers.push(['journal.jsonl', line, 'journal-entry.schema.json']);
  }
  return answers;
}

function ofSquad(subjects, name) {
  const folder = join(subjects.out, name);
  const file = (one) => readFileSync(join(folder, one), 'utf8');
  const run = (...words) => subjects.run(['squad', ...words, '--json'], folder);
  const mornings = 'programme.schema.json#/properties/mornings/items';
  const results = join(folder, 'day.csv');
  const person = JSON.parse(file('programme.json')).people[1].id;
  writeFileSync(results, `id,date,HRP\n${person},2026-12-01,26\n`);
  return [
    ['squad.json', file('squad.json'), 'squad.schema.json'],
    ['squad morning', run('morning', day), mornings],
    ['squad week', run('week'), short('squad_week')],
    ['squad card', run('card', person), short('squad_card')],
    ['squad check', run('check'), short('squad_check')],
    ['programme.json', file('programme.json'), 'programme.schema.json'],
    ['squad', run(), 'programme.schema.json'],
    ['squad log', run('log', results), short('squad_log')],
    ['squad replan', run('replan'), short('squad_replan')],
    ['squad extract', run('extract', person, join(folder, 'moved')), short('squad_move')],
  ];
}

// Of the standards, and of a file that is refused.
function ofNobody(subjects) {
  const scale = ['standard', 'show', 'us-army-aft', '--event', '2MR', '--column', 'female'];
  const bad = join(subjects.out, 'bad');
  mkdirSync(bad, { recursive: true });
  writeFileSync(join(bad, 'candidate.json'), '{}');
  return [
    ['standard list', subjects.run(['standard', 'list', '--json'], bad), short('standard_list')],
    ['standard show', subjects.run(['standard', 'show', 'us-army-aft', '--json'], bad), short('standard_show')],
    ['a scale', subjects.run([...scale, '--json'], bad), short('scale_show')],
    ['faults', subjects.run(['plan', '--json'], bad, 65), short('faults')],
  ];
}

export function answersOf(subjects, candidates, squads) {
  const named = (name, answers) => answers.map(([what, ...rest]) => [`${name}: ${what}`, ...rest]);
  return [
    ...named('nobody', ofNobody(subjects)),
    ...candidates.flatMap((name) => named(name, ofCandidate(subjects, name))),
    ...squads.flatMap((name) => named(name, ofSquad(subjects, name))),
  ];
}
