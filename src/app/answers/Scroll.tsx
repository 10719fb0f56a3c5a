import type { ReactNode } from 'react';

/** A table that may be wider than its place: it scrolls, for the keyboard too. */
export function Scroll({ label, children }: { label: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is for fields
    <div className="scroll" role="group" tabIndex={0} aria-label={label}>
      {children}
    </div>
  );
}
