// What is judged: the demonstration's candidates and squad, and both with names that are attacks.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const asOf = '2026-12-01'; // data/demo/README.md
const attack = `<script>document.title='run'</script>"'&\u05e9\u05dc\u05d5\u05dd \u{1F3C3} `.slice(0, 64);
const attacks = [
  "<script>document.title='run'</script>", '"quoted", \'too\' & <b>bold</b>', '\u05e9\u05dc\u05d5\u05dd \u05e2\u05d5\u05dc\u05dd',
  'long '.repeat(20).trim(), 'x'.repeat(100), '\u{1F3C3}\u{1F3FD}\u200d\u2640\ufe0f\u{1F4AA}', '=1+1', '@SUM(A1:A9)',
  '-2+3', 'right to left \u0645\u0631\u062d\u0628\u0627', "</svg><img src=x onerror=document.title='run'>", ']]>--><!--',
];

export class Subjects {
  constructor(program, root, out) {
    Object.assign(this, { program, root, out });
    rmSync(out, { recursive: true, force: true });
    mkdirSync(out, { recursive: true });
  }

  // Standard output of a command; `most` is the highest exit code that counts as an answer.
  run(words, folder, most = 1) {
    const run = spawnSync(this.program, [...words, '--as-of', asOf, '-C', folder], { encoding: 'utf8', maxBuffer: 1 << 28 });
    if (run.status === null || run.status > most) throw new Error(`backplan ${words.join(' ')}: ${run.stderr}`);
    return run.stdout;
  }

  copy(from, name) {
    const folder = join(this.out, name);
    cpSync(join(this.root, 'data/demo', from), folder, { recursive: true });
    return folder;
  }

  candidate(name, from = name) {
    const folder = this.copy(from, name);
    if (from !== name) {
      const odd = JSON.parse(readFileSync(join(folder, 'candidate.json'), 'utf8'));
      writeFileSync(join(folder, 'candidate.json'), JSON.stringify({ ...odd, id: attack }));
    }
    this.run(['plan'], folder);
    if (name === 'rowan') {
      this.run(['log', 'deadlift', '--set', '5@140', '--set', '5@140', '--in-reserve', '3'], folder);
      this.run(['log', 'result', 'HRP', '34', '--setting', 'practice'], folder);
    }
    const week = ['--week', '6'];
    this.export(folder, { 'plan.html': [], 'week.html': week, 'plan.ics': [], 'timed.ics': ['--at', '06:30', '--alarms'], 'plan.csv': [], 'plan.xlsx': [] });
    writeFileSync(join(folder, 'testday.txt'), this.run(['testday'], folder));
    return folder;
  }

  squad(name, from = name) {
    const folder = this.copy(from, name);
    if (from !== name) this.#rename(folder);
    this.run(['squad'], folder);
    const programme = JSON.parse(readFileSync(join(folder, 'programme.json'), 'utf8'));
    const person = programme.people.find((one) => one.extra.length > 0) ?? programme.people[0];
    this.export(folder, { 'squad.html': [], 'week.html': ['--week', '11'], 'squad.ics': [], 'timed.ics': ['--at', '06:30', '--alarms'], 'person.ics': ['--person', person.id], 'squad.csv': [], 'squad.xlsx': ['--week', '11'] });
    return folder;
  }

  export(folder, files) {
    for (const [file, more] of Object.entries(files))
      this.run(['export', file.split('.')[1], ...more, '-o', join(folder, file)], folder);
  }

  #rename(folder) {
    const quoted = (text) => `"${text.replaceAll('"', '""')}"`;
    const file = join(folder, 'roster.csv');
    const [head, ...rows] = readFileSync(file, 'utf8').trimEnd().split('\n');
    const renamed = rows.map((row, i) => {
      const [id, , ...rest] = row.split(',');
      return [i === 0 ? quoted(attack) : id, quoted(attacks[i % attacks.length]), ...rest].join(',');
    });
    writeFileSync(file, [head, ...renamed, ''].join('\n'));
    const squad = join(folder, 'squad.json');
    writeFileSync(squad, JSON.stringify({ ...JSON.parse(readFileSync(squad, 'utf8')), id: attack }));
  }
}
