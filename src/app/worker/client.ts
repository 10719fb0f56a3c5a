import { type Remote, transfer, wrap } from 'comlink';
import type { Fault } from '../../job/types.ts';
import { useDocument } from '../store/document.ts';
import { heldIn } from '../store/heldfile.ts';
import { planner, usePlanning } from '../store/planning.ts';
import { useReading } from '../store/reading.ts';
import { useView } from '../store/view.ts';
import { sureOf } from '../sure/store.ts';
import { readFileAside, stopReading } from './fileclient.ts';
import type { InHand, PaperKind, PlannerWorker, PlanReply, PlanRequest, TakeAway } from './protocol.ts';
import type { FileRead, Want } from './wanted.ts';

let remote: Remote<PlannerWorker> | undefined;

function worker(): Remote<PlannerWorker> {
  if (remote !== undefined) return remote;
  const made = new Worker(new URL('./planner.worker.ts', import.meta.url), { type: 'module', name: 'planner' });
  made.addEventListener('error', (e) => {
    usePlanning.setState({
      trouble: {
        kind: 'broken',
        text: useDocument.getState().text,
        message: e.message === '' ? 'the part of the program that plans could not be loaded' : e.message,
      },
    });
  });
  remote = wrap<PlannerWorker>(made);
  return remote;
}

/** Starts the worker before anything is there to plan: it loads while the page does. */
export const warmUp = (): void => {
  worker();
};

/** The file that is being read for a plan. */
let under: Want | undefined;

/** Whether a job still asks for a file that it wanted. */
const names = ({ text, files }: PlanRequest, { file, held }: Want): boolean =>
  heldIn(files, file)?.key === held.key && text.includes(JSON.stringify(file));

/** Plans a job; files that it wants are read first, in a thread of their own. */
async function planWithFiles(request: PlanRequest): Promise<PlanReply> {
  for (;;) {
    const reply = await worker().plan(request);
    if (reply.kind !== 'wants') return reply;
    for (const want of reply.wants) {
      under = want;
      const read = await readFileAside(want).finally(() => {
        under = undefined;
      });
      if (read === undefined)
        return {
          kind: 'refused',
          faults: [{ path: 'ship.hull.file', found: `“${want.file}”, not read: stopped`, expected: 'the whole file' }],
        };
      await giveFile(want, read);
    }
  }
}

/** Hands over what was read of a file. */
export const giveFile = (want: Want, read: FileRead): Promise<void> =>
  worker().takeFile(want, read.ok ? transfer(read, [read.tape.numbers.buffer]) : read);

/** Plans what stands there once more: a file whose reading was stopped is read after all. */
let again: () => void = () => {};
export const readAfterAll = (): void => {
  useReading.setState({ now: null });
  again();
};

/** Plans every state of the document from now on. */
export function keepPlanning(): void {
  const ask = planner(planWithFiles);
  let last: PlanRequest | undefined;
  const now = (): void => {
    const { text, files } = useDocument.getState();
    const { fitting } = useView.getState();
    if (last !== undefined && last.text === text && last.files === files && last.drawn === fitting) return;
    last = { text, files, drawn: fitting };
    if (under !== undefined && !names(last, under)) stopReading();
    ask(last);
  };
  again = () => {
    last = undefined;
    now();
  };
  useDocument.subscribe(now);
  useView.subscribe(now);
  now();
}

/** What would be wrong with a job like this. */
export const check = (request: PlanRequest): Promise<readonly Fault[]> => worker().check(request);

/** What can be taken away from a job, made when it is asked for. */
export const filesOf = async (request: PlanRequest): Promise<readonly TakeAway[]> =>
  worker().files(request, await sureOf(request));

export const papers = (): Promise<readonly PaperKind[]> => worker().papers();
export const paperOf = async (request: PlanRequest, kind: string): Promise<readonly TakeAway[]> =>
  worker().paper(request, kind, await sureOf(request));
export const inHand = (request: PlanRequest, typed: string): Promise<InHand> => worker().sheetInHand(request, typed);
