import { create } from 'zustand';

/** Who is looking. Changes camera, emphasis and the order of answers; never the data. */
export type Stance = 'bench' | 'water' | 'desk';
export type Theme = 'dark' | 'light';

/** Views to come back to, from the middle of the lug. */
export type Look = 'stance' | 'ahead' | 'astern' | 'outboard' | 'keel' | 'below' | 'ship';

export interface ViewState {
  readonly stance: Stance;
  readonly theme: Theme;
  /** Which fitting of the job is looked at. */
  readonly fitting: number;
  /** mm along the root, the spot that strip and water show together; null: none. */
  readonly spot: number | null;
  /** How many runs of the root are laid, as a number between whole runs while playing: 2.4 is run 3, four tenths done. */
  readonly laid: number;
  readonly playing: boolean;
  /** Which point of the load's movement the desk looks at. */
  readonly moment: number;
  readonly look: { readonly name: Look; readonly asked: number };
  readonly openAnswer: string | null;
  /** On a narrow screen: which sheet lies over the water. */
  readonly sheet: 'none' | 'job' | 'answers' | 'joint';
  readonly snap: boolean;
  readonly diver: boolean;
  readonly inWords: boolean;
}

const THEME = 'lugwright-theme';
const STANCE = 'lugwright-stance';

function kept(key: string): string | null {
  try {
    return typeof localStorage === 'undefined' ? null : localStorage.getItem(key);
  } catch {
    return null;
  }
}

const keptStance = kept(STANCE);

export const useView = create<ViewState>()(() => ({
  stance: keptStance === 'water' || keptStance === 'desk' ? keptStance : 'bench',
  theme: kept(THEME) === 'light' ? 'light' : 'dark',
  fitting: 0,
  spot: null,
  laid: 0,
  playing: false,
  moment: 0,
  look: { name: 'stance', asked: 0 },
  openAnswer: null,
  sheet: 'none',
  snap: true,
  diver: false,
  inWords: false,
}));

function keep(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch {
    // storage is forbidden: the next visit starts as the first
  }
}

export function setStance(stance: Stance): void {
  keep(STANCE, stance);
  useView.setState((s) => ({ stance, playing: false, look: { name: 'stance', asked: s.look.asked + 1 } }));
}

export function setTheme(theme: Theme): void {
  keep(THEME, theme);
  useView.setState({ theme });
}

export const lookFrom = (name: Look): void => useView.setState((s) => ({ look: { name, asked: s.look.asked + 1 } }));
export const setFitting = (fitting: number): void =>
  useView.setState({ fitting, laid: 0, playing: false, spot: null, moment: 0 });
