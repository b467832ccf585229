// Counts what was judged and keeps what was found.
export const faults = [];
export let checks = 0;

export function fault(where, what) {
  faults.push(`${where}: ${what}`);
}

export function check(good, where, what) {
  checks += 1;
  if (!good) fault(where, what);
}
