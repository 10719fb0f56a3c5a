import { type Remote, wrap } from 'comlink';
import type { Fault } from '../../job/types.ts';
import { useDocument } from '../store/document.ts';
import { planner, usePlanning } from '../store/planning.ts';
import { useView } from '../store/view.ts';
import type { PaperKind, PlannerWorker, PlanRequest, TakeAway } from './protocol.ts';

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

/** Plans every state of the document from now on. */
export function keepPlanning(): void {
  const ask = planner((request) => worker().plan(request));
  let last: PlanRequest | undefined;
  const now = (): void => {
    const { text, files } = useDocument.getState();
    const { fitting } = useView.getState();
    if (last !== undefined && last.text === text && last.files === files && last.drawn === fitting) return;
    last = { text, files, drawn: fitting };
    ask(last);
  };
  useDocument.subscribe(now);
  useView.subscribe(now);
  now();
}

/** What would be wrong with a job like this. */
export const check = (request: PlanRequest): Promise<readonly Fault[]> => worker().check(request);

/** What can be taken away from a job, made when it is asked for. */
export const filesOf = (request: PlanRequest): Promise<readonly TakeAway[]> => worker().files(request);

export const papers = (): Promise<readonly PaperKind[]> => worker().papers();
export const paperOf = (request: PlanRequest, kind: string): Promise<readonly TakeAway[]> =>
  worker().paper(request, kind);
