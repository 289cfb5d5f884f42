// On the phone: the screens used with one hand, within the thumb's reach; the rest behind "More".
import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import { Sheet } from '../parts/Sheet';
import { BarSign } from './BarSign';
import { PersonPart } from './PersonMenu';
import classes from './PhoneBar.module.css';
import { isAt, screens } from './screens';

export function PhoneBar() {
  const [address] = useLocation();
  const [isMore, setMore] = useState(false);
  const rest = screens.filter(({ onBar }) => !onBar);
  return (
    <>
      <nav aria-label="Screens" className={classes.bar}>
        {screens
          .filter(({ onBar }) => onBar)
          .map((screen) => (
            <Link
              key={screen.address}
              href={screen.address}
              aria-current={isAt(address, screen) ? 'page' : undefined}
            >
              <BarSign of={screen.name} />
              {screen.name}
            </Link>
          ))}
        <button
          type="button"
          aria-haspopup="dialog"
          data-here={rest.some((screen) => isAt(address, screen))}
          onClick={() => setMore(true)}
        >
          <BarSign of="More" />
          More
        </button>
      </nav>
      {isMore && (
        <Sheet title="More" fromBelow onClose={() => setMore(false)}>
          <ul className={classes.rest}>
            {rest.map((screen) => (
              <li key={screen.address}>
                <Link
                  href={screen.address}
                  aria-current={isAt(address, screen) ? 'page' : undefined}
                  onClick={() => setMore(false)}
                >
                  {screen.name}
                </Link>
              </li>
            ))}
          </ul>
          <PersonPart />
        </Sheet>
      )}
    </>
  );
}
