import { withOffers } from '../../plan/movement/offers.ts';
import type { Uncertainty } from '../../plan/spreads.ts';
import { worthSampling } from '../../plan/uncertainty.ts';
import regularUrl from '../../sheets/fonts/DejaVuSans.ttf?url';
import boldUrl from '../../sheets/fonts/DejaVuSans-Bold.ttf?url';
import type { FontBytes } from '../../sheets/index.ts';
import { withSure } from './answer.ts';
import { openFiles } from './held.ts';
import { livePlan } from './liveplan.ts';
import type { InHand, PaperKind, PlanRequest, TakeAway } from './protocol.ts';
import type { Share } from './slowwork.ts';
import { sampled } from './sure.ts';

/** Papers and files for shop, dive and desk: loaded when the first is asked for. */
const sheets = () => import('../../sheets/index.ts');

let fonts: Promise<FontBytes> | undefined;

const bytesAt = async (url: string): Promise<Uint8Array> => {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`the letters of the papers could not be loaded (${answer.status})`);
  return new Uint8Array(await answer.arrayBuffer());
};

function fontBytes(): Promise<FontBytes> {
  fonts ??= Promise.all([bytesAt(regularUrl), bytesAt(boldUrl)]).then(([regular, bold]) => ({ regular, bold }));
  fonts.catch(() => {
    fonts = undefined;
  });
  return fonts;
}

export async function paperKinds(): Promise<readonly PaperKind[]> {
  return (await sheets()).SHEETS.map(({ name, title, use }) => ({ name, title, use }));
}

const TYPES: Readonly<Record<string, string>> = {
  pdf: 'application/pdf',
  svg: 'image/svg+xml',
  csv: 'text/csv',
  dxf: 'image/vnd.dxf',
  glb: 'model/gltf-binary',
  stl: 'model/stl',
};

/** Every paper of a job in one archive, told as it goes; `null` where the job cannot be planned. */
export async function* everyPaper(request: PlanRequest): AsyncGenerator<Share, TakeAway | null, undefined> {
  yield { done: 0 };
  const planned = await livePlan(request);
  if (planned === undefined) return null;
  let plan = planned;
  if (worthSampling(planned)) plan = withSure(planned, yield* shareOf(sampled(planned), SAMPLING));
  plan = withOffers(plan);
  const { allPapers } = await import('./allpapers.ts');
  const papers = allPapers(request, plan, await fontBytes());
  const before = plan.uncertainty === planned.uncertainty ? 0 : SAMPLING;
  for (;;) {
    const step = await papers.next();
    if (step.done === true) return step.value;
    yield { done: step.value.done === null ? null : before + (1 - before) * step.value.done };
  }
}

/** Share of the work that following the readings through takes, about. */
const SAMPLING = 0.3;

function* shareOf<T>(work: Generator<Share, T, undefined>, share: number): Generator<Share, T, undefined> {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
    yield { done: step.value.done === null ? null : share * step.value.done };
  }
}

/** Whether a sheet in hand, by the digest typed off it, is one of the job as it now stands. */
export async function sheetInHand(request: PlanRequest, typed: string): Promise<InHand> {
  const reading = await openFiles(request);
  if (!reading.ok) return { kind: 'no-job' };
  const { digestIn, digestOf, sheetOf } = await import('../../sheets/digest.ts');
  const now = await digestOf(reading.job);
  const digest = digestIn(typed);
  if (digest === undefined) return { kind: 'no-digest', now };
  const of = await sheetOf(reading.job, digest);
  return of === 'neither' ? { kind: 'other', digest, now } : { kind: 'belongs', now, otherUnits: of === 'other-units' };
}

/** The files of one kind of paper for one fitting; none where the job cannot be planned. */
export async function paper(request: PlanRequest, kind: string, sure?: Uncertainty): Promise<readonly TakeAway[]> {
  const planned = await livePlan(request);
  if (planned === undefined) return [];
  const plan = withSure(planned, sure);
  const fitting = plan.fittings[Math.min(request.drawn, plan.fittings.length - 1)];
  const sheet = (await sheets()).SHEETS.find((s) => s.name === kind);
  if (fitting === undefined || sheet === undefined) return [];
  // The calculation tells of other stances, as it does in the archive.
  const told = sheet.name === 'calculation' ? withOffers(plan) : plan;
  const files = await sheet.make(told, fitting, { fonts: await fontBytes() });
  return files.map((f) => ({
    name: f.name,
    type: TYPES[f.name.split('.').at(-1) ?? ''] ?? 'application/octet-stream',
    content: f.bytes,
  }));
}
