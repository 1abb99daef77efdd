//! Says that something is under way, once it has taken half a second.
import { useEffect, useState } from "preact/hooks";

export function Working({ what }: { what: string }) {
  const [late, setLate] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLate(true), 500);
    return () => clearTimeout(timer);
  }, []);
  if (!late) return null;
  return (
    <div class="working-on" role="status">
      <progress aria-label={what} /> {what} …
    </div>
  );
}
