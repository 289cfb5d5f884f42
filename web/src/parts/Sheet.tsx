// A window over the page, the browser's own: it keeps the focus inside, Escape closes it, and the focus goes back to
// where it was.
import { useId, useLayoutEffect, useRef, type ReactNode } from 'react';
import classes from './Sheet.module.css';

type Props = { title: string; onClose: () => void; fromBelow?: boolean; children: ReactNode };

export function Sheet({ title, onClose, fromBelow = false, children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useLayoutEffect(() => {
    const shown = dialog.current;
    if (shown && !shown.open) shown.showModal();
    return () => shown?.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      className={classes.sheet}
      data-from-below={fromBelow}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClick={(event) => {
        if (event.target === dialog.current) onClose(); // beside it
      }}
    >
      <div className={classes.inside}>
        <div className={classes.head}>
          <h2 id={titleId}>{title}</h2>
          <button type="button" className={classes.close} aria-label="Close" onClick={onClose}>
            <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
              <path d="M3 3l10 10M13 3L3 13" stroke="currentColor" strokeWidth="1.8" />
            </svg>
          </button>
        </div>
        {children}
      </div>
    </dialog>
  );
}
