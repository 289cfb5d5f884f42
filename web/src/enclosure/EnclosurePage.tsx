// One enclosure: the document comes from the record, is changed here, and everything shown follows from it.
import { useThing } from '../api/record';
import { Failure, Loading } from '../parts/Waiting';
import { EnclosureDesk } from './EnclosureDesk';

export default function EnclosurePage({ id }: { id: string }) {
  const { data, error, isPending, refetch } = useThing('enclosures', id);
  if (isPending) return <Loading what="the enclosure" lines={8} />;
  if (!data) return <Failure error={error} retry={() => void refetch()} />;
  return <EnclosureDesk kept={data} />;
}
