# Why a file is not taken as a photo.
photo-too-large = { $file } has more than the { $most } MB that can be kept. Nothing was kept of it: take the photo at a lower resolution.
photo-unfit = { $file } cannot be used: { $why }. Nothing was kept of it: copy it here again, or take the photo again.
photo-too-many-dots = { $millions ->
    [-1] { $file } has hundreds of million dots, more than can be shown. Nothing was kept of it: take the photo at a lower resolution.
   *[other] { $file } has { $millions } million dots, more than can be shown. Nothing was kept of it: take the photo at a lower resolution.
}
photo-no-memory = { $file } needs more memory than the tablet has free. Nothing was kept of it: close other programs and try again, or take the photo at a lower resolution.
photo-no-picture = { $file } is no JPEG or PNG picture. Nothing was kept of it: take the photo again, or choose another file.
photo-damaged = { $file } is damaged: it cannot be read to its end. Nothing was kept of it: take the photo again, or choose another file.
