import { Component, type ReactNode } from 'react';

/** Said where the water cannot be drawn. All figures stay usable. */
export function NoPicture({ reason }: { reason: string }) {
  return (
    <div className="nopicture" role="status">
      <b>No picture: {reason}.</b>
      <p>All figures, answers and the unrolled joint stand as they are.</p>
    </div>
  );
}

let known: boolean | undefined;

/** Whether this browser draws in depth at all. */
export function canDraw(): boolean {
  if (known === undefined) {
    try {
      const context = document.createElement('canvas').getContext('webgl2');
      known = context !== null;
      context?.getExtension('WEBGL_lose_context')?.loseContext();
    } catch {
      known = false;
    }
  }
  return known;
}

/** Keeps a fault of the picture from taking the figures with it. */
export class PictureGuard extends Component<{ children: ReactNode }, { reason: string | undefined }> {
  override state: { reason: string | undefined } = { reason: undefined };
  static getDerivedStateFromError(error: unknown): { reason: string } {
    return { reason: error instanceof Error ? error.message : String(error) };
  }
  override render(): ReactNode {
    return this.state.reason === undefined ? this.props.children : <NoPicture reason={this.state.reason} />;
  }
}
