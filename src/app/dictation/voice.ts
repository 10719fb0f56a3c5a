/** Saying things aloud, by the browser's own voice; off until somebody wants it. */
const KEY = 'lugwright-say-aloud';

export const canSpeak = (): boolean => typeof speechSynthesis !== 'undefined';

export function speaksAloud(): boolean {
  try {
    return canSpeak() && localStorage.getItem(KEY) === 'yes';
  } catch {
    return false;
  }
}

export function setSpeaksAloud(on: boolean): void {
  try {
    localStorage.setItem(KEY, on ? 'yes' : 'no');
  } catch {
    // storage is forbidden: asked again on the next visit
  }
  if (!on && canSpeak()) speechSynthesis.cancel();
}

/** What is being said gives way to the newest. */
export function say(words: string): void {
  if (!canSpeak()) return;
  speechSynthesis.cancel();
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.lang = 'en';
  utterance.rate = 0.9;
  speechSynthesis.speak(utterance);
}
