import { serveSlow } from './slowserver.ts';

serveSlow(self as unknown as Parameters<typeof serveSlow>[0], {
  *count({ n }) {
    for (let i = 0; i < n; i++) yield { done: i / n };
    return n;
  },
});
