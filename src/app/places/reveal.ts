import { useView } from '../store/view.ts';

/** Waits so long for a part of the statement to be there after it was put into the job. ms */
const PATIENCE = 4000;

/** Until a group that was opened has its full height. ms */
const UNFOLDING = 150;

/** Opens a group of the statement and goes to its first figure, once it stands there: what was just put in is seen, not hidden in a fold. */
export function reveal(group: string): void {
  useView.setState({ sheet: 'job' });
  const until = performance.now() + PATIENCE;
  const look = (): void => {
    const found = document.querySelector<HTMLDetailsElement>(`details[data-group="${group}"]`);
    if (found === null) {
      if (performance.now() < until) setTimeout(look, 100);
      return;
    }
    found.open = true;
    setTimeout(() => {
      found.scrollIntoView({ block: 'start' });
      const first = found.querySelector<HTMLElement>('input, select') ?? found.querySelector<HTMLElement>('summary');
      first?.focus({ preventScroll: true });
    }, UNFOLDING);
  };
  look();
}
