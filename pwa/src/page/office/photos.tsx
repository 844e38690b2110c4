import { useEffect, useState } from 'preact/hooks';
import type { JobView } from '../../shared/job';
import { photoUrl } from '../log/photos';
import { sayMoment } from '../look';
import { outlook } from '../sync/outlook';
import { t } from '../words';
import { Part } from './job-parts';
import { personName, zoneOf } from './say';

/** Every photo of the job, the newest first, with who took it and when. */
export function PhotosPart({ job, now }: { job: JobView; now: Date }) {
  const newest = [...job.photos].sort((a, b) => b.at.localeCompare(a.at));
  return (
    <Part title={t('office.photos')} wide>
      {newest.length === 0 && <p>{t('office.photos.none')}</p>}
      <ul class="bare office-photos">
        {newest.map((photo) => {
          const taken = [personName(photo.author, outlook.value), sayMoment(new Date(photo.at), now, zoneOf(job.id))].join(', ');
          return (
            <li key={photo.event}>
              <Picture photo={photo.photo} alt={photo.caption ?? t('office.photo')} />
              {photo.caption && <span class="board-line">{photo.caption}</span>}
              <span class="soft board-line">{taken}</span>
            </li>
          );
        })}
      </ul>
    </Part>
  );
}

function Picture({ photo, alt }: { photo: string; alt: string }) {
  const [url, setUrl] = useState<string | null | undefined>(undefined);
  useEffect(() => {
    let here = true;
    photoUrl(photo).then(
      (found) => here && setUrl(found),
      () => here && setUrl(null),
    );
    return () => {
      here = false;
    };
  }, [photo]);
  if (!url) return <span class="soft">{t(url === undefined ? 'pour.photo.loading' : 'pour.photo.away')}</span>;
  return <a href={url} target="_blank" rel="noopener"><img class="office-photo" src={url} alt={alt} loading="lazy" /></a>;
}
