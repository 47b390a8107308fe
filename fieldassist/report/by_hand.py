"""How a daily log is checked without this program: commands for bash, printed on its pages word for word.

They need Poppler (pdfdetach, pdfsig), OpenSSL 1.1.1 or later, and what every such system has. They check what
`record.chain` and `record.seal` say: the link of each event to the one before it, the last seal, the attached files,
and whose certificate signed the pages. No line is longer than the page is wide, none holds two spaces in a row.
"""

from __future__ import annotations

NAME = "daily-log.pdf"
"""What the commands call the file."""

UNPACK = (
    f"mkdir -p check/attached && pdfdetach -saveall -o check {NAME} && cd check",
    "hash() { openssl dgst -sha256 -r | cut -c 1-64; }",
    r"""raw() { printf "$(printf %s "$1" | sed 's/../\\x&/g')"; }""",
    r"""of() { printf %s "$2" | sed -n "s/.*\"$1\":\"\{0,1\}\([^\",}]*\).*/\1/p"; }""",
)
# Each line names the hash of the one before: a changed text is no longer the one that the next line names.
CHAIN = (
    "before=$(printf %064d 0); n=0",
    'while IFS= read -r e; do n=$((n + 1)); case $e in *",\\"prev\\":\\"$before\\",\\"seq\\":$n,"*) ;;',
    '*) echo "NOT GOOD: event $n does not follow from the one before" ;; esac',
    'before=$(printf %s "$e" | hash); done < events.jsonl; echo "$n events, head $before"',
)
# RFC 8032; what stands before the key is the head of its SubjectPublicKeyInfo (RFC 8410).
SEAL = (
    """seal=$(grep '"type":"day sealed"' events.jsonl | tail -n 1); last=$(of covers "$seal")""",
    'signed=$(sed -n "${last}p" events.jsonl); cert=$(of certificate "$seal"); v=1; [ "$cert" ] && v=2',
    """date=$(sed 's/^{"bundle":1,"date":"\\([^"]*\\)".*/\\1/' manifest.json)""",
    """site=$(sed 's/.*,"site":"\\(.*\\)"}$/\\1/' manifest.json)""",
    """wall=$(printf %s "$signed" | sed 's/^{"at":{"boot":"[^"]*","mono":[^,]*,"wall":"\\([^"]*\\)".*/\\1/')""",
    '''{ printf '{'; [ "$cert" ] && printf '"certificate":"%s",' "$cert"; printf '"covers":%s,' "$last"''',
    '''printf '"date":"%s","head":"%s",' "$date" "$(printf %s "$signed" | hash)"''',
    '''printf '"name":"%s","part":%s,' "$(of name "$seal")" "$(of part "$seal")"''',
    """printf '"role":"%s","seal":"fieldassist day %s",' "$(of role "$seal")" $v""",
    """printf '"signed_at":"%s","site":"%s"}' "$wall" "$site"; } > statement""",
    'raw 302a300506032b6570032100$(of public_key "$seal") > key.der',
    'raw $(of signature "$seal") > signature',
    "openssl pkeyutl -verify -pubin -keyform DER -inkey key.der -rawin -in statement -sigfile signature",
    'echo "events 1 to $last of $n, sealed by $(of name "$seal")"',
    'echo "fingerprint $(raw $(of public_key "$seal") | hash | cut -c 1-32)"',
)
# A file is named by the first digits of its hash, which the event that speaks of it has in full. Of a photo its copy
# goes with the pages, where one was made.
FILES = (
    """find attached -type f | while IFS= read -r f; do h=$(hash < "$f")""",
    """[ "attached/${h:0:16}" = "${f%.*}" ] && grep -Eq "\\"(copy_)?sha256\\":\\"$h\\"" events.jsonl ||""",
    """echo "NOT GOOD: no event speaks of this $f"; done""",
    """{ grep -v '"copy_file":"[0-9a-f]' events.jsonl; grep -Eo '"copy_file":"[^"]+"' events.jsonl; } |""",
    """grep -Eo '"(audio|copy_file|file)":"[0-9a-f]{16}[.][a-z0-9]+"' | cut -d '"' -f 4 |""",
    """while IFS= read -r f; do [ -f "attached/$f" ] || echo "not in this PDF: $f"; done""",
)
# ETSI EN 319 142-1. A copy bears no signature, and its seal may name a certificate all the same.
PAGES = (
    f"pdfsig ../{NAME}; cp ../{NAME} pages.pdf; pdfsig -dump pages.pdf",
    "page=$(openssl pkcs7 -inform DER -in pages.pdf.sig0 -print_certs | openssl x509 -outform DER | hash)",
    '[ "$page" = "$cert" ] && echo "the seal names this certificate" ||',
    'echo "NOT GOOD: another certificate"',
)
RECIPE = (*UNPACK, *CHAIN, *SEAL, *FILES)
