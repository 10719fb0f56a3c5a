import { expose, transfer } from 'comlink';
import { filesFor, planRequest, readRequest } from './answer.ts';
import { paper, paperKinds } from './papers.ts';
import type { PlannerWorker, PlanReply, PlanRequest } from './protocol.ts';

let lastKey = '';

const worker: PlannerWorker = {
  plan(request: PlanRequest): PlanReply {
    const reply = planRequest(request, lastKey);
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
  check(request: PlanRequest) {
    return readRequest(request);
  },
  files(request: PlanRequest) {
    return filesFor(request);
  },
  papers: paperKinds,
  paper,
};

expose(worker);
