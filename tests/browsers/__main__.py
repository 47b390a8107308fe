from tests.browsers.page import PAGE, with_hashes

PAGE.write_text(with_hashes(PAGE.read_text()))
