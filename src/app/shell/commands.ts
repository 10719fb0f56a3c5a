import { openDictation } from '../dictation/store.ts';
import { toggleMap } from '../places/store.ts';
import { redo, undo } from '../store/document.ts';
import { chooseFile, saveToFile } from '../store/files.ts';
import { lookFrom, setStance, useView } from '../store/view.ts';

/** What a key does. `plain` keys work only where nobody is typing. */
export interface Command {
  readonly keys: string;
  readonly name: string;
  readonly when: (e: KeyboardEvent) => boolean;
  readonly plain?: boolean;
  readonly run: () => void;
}

const command = (e: KeyboardEvent): boolean => e.ctrlKey || e.metaKey;
const plainKey = (key: string) => (e: KeyboardEvent) => !command(e) && !e.altKey && e.key.toLowerCase() === key;

export const COMMANDS: readonly Command[] = [
  { keys: 'Ctrl Z', name: 'undo', when: (e) => command(e) && !e.shiftKey && e.key.toLowerCase() === 'z', run: undo },
  {
    keys: 'Ctrl Shift Z',
    name: 'redo',
    when: (e) => command(e) && ((e.shiftKey && e.key.toLowerCase() === 'z') || e.key.toLowerCase() === 'y'),
    run: redo,
  },
  {
    keys: 'Ctrl S',
    name: 'save to a file',
    when: (e) => command(e) && e.key.toLowerCase() === 's',
    run: () => void saveToFile(),
  },
  {
    keys: 'Ctrl O',
    name: 'open a file',
    when: (e) => command(e) && e.key.toLowerCase() === 'o',
    run: () => void chooseFile(),
  },
  { keys: 'B', name: 'bench', plain: true, when: plainKey('b'), run: () => setStance('bench') },
  { keys: 'W', name: 'water', plain: true, when: plainKey('w'), run: () => setStance('water') },
  { keys: 'D', name: 'desk', plain: true, when: plainKey('d'), run: () => setStance('desk') },
  {
    keys: '0',
    name: 'back to the view of the stance',
    plain: true,
    when: plainKey('0'),
    run: () => lookFrom('stance'),
  },
  {
    keys: 'P',
    name: 'play the welding order',
    plain: true,
    when: plainKey('p'),
    run: () => useView.setState((s) => ({ playing: !s.playing })),
  },
  {
    keys: 'R',
    name: 'take down readings from the diver',
    plain: true,
    when: plainKey('r'),
    run: () => openDictation('shell'),
  },
  {
    keys: 'M',
    name: 'where may it go',
    plain: true,
    when: plainKey('m'),
    run: toggleMap,
  },
];

const typing = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && (target.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName));

/** Listens for the keys of all commands; returns what stops it. */
export function listenForKeys(): () => void {
  const onKey = (e: KeyboardEvent): void => {
    const hit = COMMANDS.find((c) => c.when(e) && !(c.plain === true && typing(e.target)));
    if (hit === undefined) return;
    // A figure being typed has its own undo until it is settled.
    if ((hit.name === 'undo' || hit.name === 'redo') && e.target instanceof HTMLTextAreaElement) return;
    e.preventDefault();
    hit.run();
  };
  window.addEventListener('keydown', onKey);
  return () => window.removeEventListener('keydown', onKey);
}
