import type { Job } from './types.ts';

/** Names of fields where the word in the job is not what a reader calls it. */
const NAMES: Readonly<Record<string, string>> = {
  'ship.lpp': 'length between perpendiculars',
  'ship.draftAft': 'draft aft',
  'ship.draftForward': 'draft forward',
  'ship.heel': 'heel',
  'ship.hull.file': 'scatter of the scan itself',
  'at.station': 'place of the lug: station',
  'at.girth': 'place of the lug: round from the keel',
  'at.height': 'place of the lug: height',
  'at.halfBreadth': 'place of the lug: half-breadth',
  heading: 'heading of the foot',
  stem: 'lean of the stem',
  'load.force': 'pull',
};

/** What a reader calls a reading of the job: the draft mark by its name, a field by its words, counted from one. Names are as the job has them. */
export function readingInWords(path: string, { ship }: Pick<Job, 'ship'>): string {
  const known = NAMES[path] ?? NAMES[path.replace(/^fittings\[\d+\]\./, '')];
  if (known !== undefined) return known;
  const mark = /^ship\.draftMarks\[(\d+)\]\.(\w+)$/.exec(path);
  const words = (field: string) => field.replaceAll(/([A-Z])/g, (letter) => ` ${letter.toLowerCase()}`);
  if (mark !== null) {
    const index = Number(mark[1]);
    const name = ship.draftMarks?.marks[index]?.name ?? `number ${index + 1}`;
    return `${words(mark[2] as string)} at the mark “${name}”`;
  }
  const plain = path
    .replace(/^fittings\[\d+\]\./, '')
    .replace(/^ship\.hull\./, 'of the hull: ')
    .replace(/^ship\./, 'of the ship: ')
    .replaceAll(/\[(\d+)\]/g, (_, index) => ` ${Number(index) + 1}`)
    .replaceAll('.', ', ');
  return words(plain);
}
