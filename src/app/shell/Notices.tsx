import { dismiss, useSession } from '../store/session.ts';

export function Notices() {
  const notices = useSession((s) => s.notices);
  return (
    <div className="notices" aria-live="polite">
      {notices.map((n) => (
        <div key={n.key} className={`notice${n.grave ? ' grave' : ''}`} role={n.grave ? 'alert' : 'status'}>
          <span>{n.text}</span>
          <button type="button" onClick={() => dismiss(n.key)}>
            understood
          </button>
        </div>
      ))}
    </div>
  );
}
