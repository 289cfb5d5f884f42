// What to order, and until when.
import { NumberInput } from '@mantine/core';
import { useLocalStorage } from '@mantine/hooks';
import { Link } from 'wouter';
import { Panel } from '../parts/Panel';
import { Nothing } from '../parts/Waiting';
import { isoDay, showDay } from './days';
import classes from './LampsList.module.css';
import { shoppingList, type Order } from './shopping';
import { enclosureName, type Lamps } from './useLamps';

function OrderLine({ order, all, today }: { order: Order; all: Lamps; today: string }) {
  const { lamp, fromStore, order_by, needed_by } = order;
  return (
    <li className={classes.order}>
      <strong>
        {fromStore
          ? `Take from store by ${showDay(needed_by)}`
          : order_by === today
            ? 'Order now'
            : `Order by ${showDay(order_by)}`}
      </strong>
      <span>
        {fromStore ? fromStore.name : `${order.what}${order.price !== null ? `, about ${order.price}` : ''}`}
      </span>
      <span className={classes.sort}>
        for <Link href={`/lamps/${encodeURIComponent(lamp.id)}`}>{lamp.name}</Link>,{' '}
        {enclosureName(all.enclosures, lamp.enclosure)}, which may leave its band from {showDay(needed_by)}
        {order.isBeyond && '; a date further off than its readings can tell'}
      </span>
    </li>
  );
}

export function Shopping({ all }: { all: Lamps }) {
  const [delivery_days, setDays] = useLocalStorage({ key: 'dapple-delivery-days', defaultValue: 14 });
  const today = isoDay(new Date());
  const orders = shoppingList(all.lamps, all.lives, { today, delivery_days, ahead_days: 365 });
  const toBuy = orders.filter(({ fromStore }) => fromStore === null);
  const total = toBuy.reduce((sum, { price }) => sum + (price ?? 0), 0);
  return (
    <Panel title="To order within a year">
      {orders.length === 0 && <Nothing>Nothing: no lamp is known to leave its band within a year.</Nothing>}
      <ul className={classes.lamps}>
        {orders.map((order) => (
          <OrderLine key={order.lamp.id} order={order} all={all} today={today} />
        ))}
      </ul>
      {total > 0 && (
        <p className={classes.total}>
          {toBuy.length === 1 ? 'One lamp' : `${toBuy.length} lamps`}, about {Math.round(total)} at what the
          last ones cost
          {toBuy.some(({ price }) => price === null) && ' (some without a price)'}.
        </p>
      )}
      <NumberInput
        label="Days a delivery takes"
        min={0}
        max={365}
        value={delivery_days}
        onChange={(value) => typeof value === 'number' && setDays(value)}
        className={classes.delivery}
      />
    </Panel>
  );
}
