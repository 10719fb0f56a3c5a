/** What stands in sight wherever the plan is looked at, on every screen. */
export function Caution() {
  return (
    <aside className="everywhere" aria-label="Caution">
      <b>A planning aid.</b> A competent engineer checks every figure. Codes, class society, qualified procedure, dive
      supervisor, makers' limits come first. No dive table, no decompression advice.
    </aside>
  );
}

/** Wherever the plan sends a diver to weld. */
export function DiveCaution() {
  return (
    <aside className="caution" aria-label="Caution for the dive">
      <p>
        <b>Before anyone strikes.</b> Propellers, rudders, thrusters, sea suctions, sonar and impressed-current
        protection locked out. The space behind the plating vented and proved free of explosive gas.
      </p>
      <p>
        Direct current only, never alternating. The knife switch closes and opens on the diver's word alone. Insulated
        gloves and leads; never between electrode and work.
      </p>
    </aside>
  );
}
