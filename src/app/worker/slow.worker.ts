import { findModelReader } from './modelreader.ts';
import { everyPaper } from './papers.ts';
import { bestWork, mapWork } from './places.ts';
import type { SlowKinds } from './slowkinds.ts';
import { serveSlow } from './slowserver.ts';
import { sureWork } from './sure.ts';

findModelReader();

serveSlow<SlowKinds>(self as unknown as Parameters<typeof serveSlow>[0], {
  papers: everyPaper,
  map: mapWork,
  best: bestWork,
  sure: sureWork,
});
