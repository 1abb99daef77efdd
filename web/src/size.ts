//! The size of an element, followed.
import type { RefObject } from "preact";
import { useEffect, useState } from "preact/hooks";

export function useSize(ref: RefObject<Element | null>): { width: number; height: number } {
  const [size, setSize] = useState({ width: 0, height: 0 });
  useEffect(() => {
    const at = ref.current;
    if (!at) return;
    const observer = new ResizeObserver(() => {
      const { width, height } = at.getBoundingClientRect();
      setSize((was) => (was.width === width && was.height === height ? was : { width, height }));
    });
    observer.observe(at);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}
