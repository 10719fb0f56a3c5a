import { openFiles } from './held.ts';
import { findModelReader } from './modelreader.ts';
import { everyPaper } from './papers.ts';
import { bestWork, mapWork } from './places.ts';
import { serveSlow } from './slowserver.ts';
import { sureWork } from './sure.ts';

findModelReader();

serveSlow(self as unknown as Parameters<typeof serveSlow>[0], {
  *count({ n }) {
    for (let i = 0; i < n; i++) yield { done: i / n };
    return n;
  },
  papers: everyPaper,
  async *map(ask) {
    await openFiles(ask.request);
    return yield* mapWork(ask);
  },
  async *best(ask) {
    await openFiles(ask.request);
    return yield* bestWork(ask);
  },
  sure: sureWork,
});
