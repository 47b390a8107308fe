# Who signs with which key: the roster on the tablet, and a key that is carried to another.
roster-title = Roster
roster-none = No roster on this tablet. It comes with the contract: bring it in from a stick.
roster-not-good = The roster on this tablet is not good: { $why }
roster-of = { $firm }, made { $made }
roster-signed = Signed by { PERSON($name) }, { $role ->
    [firm] the firm
   *[owner] owner
}. Fingerprint, to be compared with the one in the contract:
roster-person = { PERSON($name) }, { $role ->
    [foreman] foreman
    [owner] owner
    [inspector] inspector
   *[installer] installer
}
roster-signs = { $until ->
    [none] since { $since }
   *[other] { $since } to { $until }
}
roster-revoked = { $why ->
    [none] revoked { $since }
   *[other] revoked { $since }: { $why }
}
roster-not-listed = has a PIN here and stands in no roster
roster-key = Key { $fingerprint }{ $here ->
    [yes] , on this tablet
   *[no] {""}
}
roster-bring-in = Bring in a roster
roster-which = Which roster?
roster-take = Take this roster
roster-takes-place = It takes the place of the one of { $firm }, made { $made }.
roster-other-signer = Another key signed this one. Ask why before you take it.
roster-older = It is older than the one here.
roster-vouch = { PERSON($name) } takes in the roster of { $firm }: PIN

# --- a key on its way to another tablet

roster-carry = Carry it
roster-take-key = Take a key in
roster-six-words = Six words, shown this once: write them down
roster-carried = The key of { PERSON($name) } lies in { $folder } as { $file }. The paper goes another way than the file. On the other tablet: Crew and PINs, Take a key in. Then destroy both.
roster-written-down = They are written down
roster-which-key = Which key?
roster-type-words = The six words from the paper
roster-their-pin = PIN, as on the other tablet
