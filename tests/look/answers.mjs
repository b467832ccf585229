// Everything that answers with JSON, and what the published schemas promise of it.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const day = '2026-12-03';

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
    ...JSON.parse(run('show')).weeks.map((week) => ['show', JSON.stringify(week), 'plan.schema.json#/properties/weeks/items']),
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
  const person = JSON.parse(file('programme.json')).people[1].id;
  return [
    ['squad.json', file('squad.json'), 'squad.schema.json'],
    ['squad morning', run('morning', day), mornings],
    ...JSON.parse(run('week')).mornings.map((one) => ['squad week', JSON.stringify(one), mornings]),
    ['squad card', run('card', person), 'programme.schema.json#/properties/people/items'],
    ['programme.json', file('programme.json'), 'programme.schema.json'],
    ['squad', run(), 'programme.schema.json'],
  ];
}

export function answersOf(subjects, candidates, squads) {
  const named = (name, answers) => answers.map(([what, ...rest]) => [`${name}: ${what}`, ...rest]);
  return [
    ...candidates.flatMap((name) => named(name, ofCandidate(subjects, name))),
    ...squads.flatMap((name) => named(name, ofSquad(subjects, name))),
  ];
}
