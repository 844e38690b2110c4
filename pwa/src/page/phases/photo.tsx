import { useEffect, useState } from 'preact/hooks'
import type { PhotoId } from '../../shared/events'
import { keepPhoto, photoUrl } from '../log/photos'
import { t } from '../words'
import { attempt } from './act'

/** Takes a picture with the camera, or picks one; resolves it to its kept id. */
export function PhotoButton({ label, onKept }: { readonly label: string; readonly onKept: (photo: PhotoId) => void }) {
  const [busy, setBusy] = useState(false)
  const take = async (event: Event): Promise<void> => {
    const input = event.currentTarget as HTMLInputElement
    const file = input.files?.[0]
    if (!file) return
    setBusy(true)
    await attempt(async () => onKept((await keepPhoto(file)) as PhotoId))
    setBusy(false)
    input.value = ''
  }
  return (
    <label class="look-button photo-button">
      {busy ? t('pour.photo.saving') : label}
      <input class="visually-hidden" type="file" accept="image/*" capture="environment" onChange={(event) => void take(event)} />
    </label>
  )
}

/** A kept photo; words when it is not on this phone and can't be had now. */
export function Photo({ photo, alt }: { readonly photo: string; readonly alt: string }) {
  const [url, setUrl] = useState<string | null | undefined>(undefined)
  useEffect(() => {
    let here = true
    photoUrl(photo).then((found) => here && setUrl(found), () => here && setUrl(null))
    return () => {
      here = false
    }
  }, [photo])
  if (url === undefined) return <span class="soft">{t('pour.photo.loading')}</span>
  return url ? <img class="photo" src={url} alt={alt} loading="lazy" /> : <span class="soft">{t('pour.photo.away')}</span>
}
