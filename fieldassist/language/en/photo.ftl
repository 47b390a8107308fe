# Why a file is not taken as a photo.
photo-too-large = { $file } has more than the { $most } MB that can be kept. Nothing was kept of it: take the photo at a lower resolution.
photo-unfit = { $file } cannot be used: { $why }. Nothing was kept of it: copy it here again, or take the photo again.
photo-too-many-dots = { $millions ->
    [-1] { $file } has hundreds of million dots, more than can be shown. Nothing was kept of it: take the photo at a lower resolution.
   *[other] { $file } has { $millions } million dots, more than can be shown. Nothing was kept of it: take the photo at a lower resolution.
}
photo-no-memory = { $file } needs more memory than the tablet has free. Nothing was kept of it: close other programs and try again, or take the photo at a lower resolution.
photo-heic = { $file } is a HEIC picture, for which the library pi_heif is not installed here. Nothing was kept of it: set the camera to JPEG and take the photo again, or install what the tablet needs (pip install 'fieldassist[tablet]').
photo-no-picture = { $file } is no JPEG, PNG or HEIC picture. Nothing was kept of it: take the photo again, or choose another file.
photo-damaged = { $file } is damaged: it cannot be read to its end. Nothing was kept of it: take the photo again, or choose another file.
photo-places-stay = From { $file } it cannot be left out where it was taken and with what. Nothing was kept of it: take the photo again, or let places be kept.

# --- the page of photos ------------------------------------------------------------------------------------------

photo-page-title = Photos
photo-page-no-day = No day is open
photo-page-to-day = To the day
photo-page-belongs = Kept now, it belongs to { $where }
photo-page-where-day = the day, before any area
photo-page-where-rounds = { $area }, between rounds
photo-page-where = { $area }, { $section }: { $step }
photo-page-photo = Photo { $number }, { $when }
photo-page-kept = { $when }, { $where }
photo-page-taken-back = TAKEN BACK, { $when }, { $where }
photo-page-kept-by = Kept by { PERSON($name) }
photo-page-kept-by-nobody = Kept while nobody had said a name
photo-page-page = Page { $page } of { $pages }
photo-page-newer = Newer
photo-page-older = Older
photo-page-kept-today = Kept today: { $count }
photo-page-to-pick = Photos to pick
photo-page-look-again = Look again
photo-page-camera = Camera
photo-page-take = Take the photo
photo-page-keep = Keep this photo
photo-page-all = All photos
photo-page-back = Back
photo-page-keeping = It is being kept.
photo-page-looking = Looking for photos.
photo-page-none-kept = No photo was kept today.
photo-page-none-found = No photo was found in
    { $folders }
    Put photos (JPEG, PNG or HEIC) there, then press “Look again”.
photo-page-no-camera = The camera cannot be used from here. Take photos with the tablet's own camera program, which puts them among the pictures, then press “Look again”.
photo-page-other-kinds = { $count ->
    [one] One picture of another kind is not shown. Set the camera to JPEG.
   *[other] { $count } pictures of other kinds are not shown. Set the camera to JPEG.
}
photo-page-missing = The tablet's copy is missing or was changed. The log still names it: look for it in a bundle.
photo-page-camera-dark = The camera shows nothing yet. Wait until you see the picture, then take it.
photo-page-not-saved = The photo could not be saved ({ $why }). Free some space, then take it again. The day is safe.
