import { expose, transfer } from 'comlink';
import type { Uncertainty } from '../../plan/spreads.ts';
import { filesFor, planRequest, readRequest } from './answer.ts';
import { openDrawings, openFiles, takeRead } from './held.ts';
import { findModelReader } from './modelreader.ts';
import { paper, paperKinds, sheetInHand } from './papers.ts';
import type { PlannerWorker, PlanReply, PlanRequest } from './protocol.ts';

let lastKey = '';
findModelReader();

const worker: PlannerWorker = {
  async plan(request: PlanRequest): Promise<PlanReply> {
    let reply = planRequest(request, lastKey);
    if (reply.kind === 'wants' && reply.drawings) {
      await openDrawings();
      reply = planRequest(request, lastKey);
    }
    if (reply.kind !== 'planned') return reply;
    if (reply.drawing.kind !== 'drawn') {
      if (reply.drawing.kind === 'none') lastKey = '';
      return reply;
    }
    const { drawing } = reply.drawing;
    lastKey = drawing.key;
    const arrays = [drawing.near, drawing.far, drawing.other].flatMap((p) => [
      p.positions,
      p.normals,
      p.places,
      p.index,
    ]);
    return transfer(
      reply,
      [...arrays, drawing.frames, drawing.grid].map((a) => a.buffer),
    );
  },
  takeFile: takeRead,
  check(request: PlanRequest) {
    return readRequest(request);
  },
  async files(request: PlanRequest, sure?: Uncertainty) {
    await openFiles(request);
    return filesFor(request, sure);
  },
  papers: paperKinds,
  paper,
  sheetInHand,
};

expose(worker);
