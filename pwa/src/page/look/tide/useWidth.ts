import type { RefObject } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';

/** The width of an element in whole pixels, kept up to date; `before` until it is measured. */
export function useWidth<T extends HTMLElement>(before: number): [RefObject<T | null>, number] {
  const element = useRef<T>(null);
  const [width, setWidth] = useState(before);
  useLayoutEffect(() => {
    const target = element.current;
    if (!target) return;
    const measure = () => setWidth(Math.max(160, Math.round(target.clientWidth) || before));
    measure();
    if (typeof ResizeObserver === 'undefined') return;
    const observer = new ResizeObserver(measure);
    observer.observe(target);
    return () => observer.disconnect();
  }, [before]);
  return [element, width];
}
