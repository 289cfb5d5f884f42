import { LampPage } from './LampPage';
import { LampsList } from './LampsList';

export default function LampsPage({ id }: { id?: string }) {
  return id === undefined ? <LampsList /> : <LampPage key={id} id={id} />;
}
