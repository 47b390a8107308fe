import java.io.File;
import java.util.ArrayList;
import java.util.List;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

/** Validates files: arguments are profiles joined by commas (3a,3u,ua1), then files. A line for each file and profile:
 * file, profile, yes or no, number of checks; and one for each check that failed: rule, message, where. Parted by tabs. */
class Validate {
    public static void main(String[] arguments) throws Exception {
        VeraGreenfieldFoundryProvider.initialise();
        List<PDFAFlavour> profiles = new ArrayList<>();
        for (String name : arguments[0].split(",")) {
            profiles.add(PDFAFlavour.byFlavourId(name));
        }
        for (int at = 1; at < arguments.length; at++) {
            try (PDFAParser file = Foundries.defaultInstance().createParser(new File(arguments[at]), profiles.get(0));
                    PDFAValidator validator = Foundries.defaultInstance().createValidator(profiles)) {
                for (ValidationResult result : validator.validateAll(file)) {
                    System.out.println(String.join("\t", arguments[at], result.getPDFAFlavour().getId(),
                        result.isCompliant() ? "yes" : "no", "" + result.getTotalAssertions()));
                    for (TestAssertion failed : result.getTestAssertions()) {
                        System.out.println(String.join("\t", "",
                            failed.getRuleId().getClause() + "-" + failed.getRuleId().getTestNumber(),
                            failed.getMessage().replaceAll("\\s+", " "), failed.getLocation().getContext()));
                    }
                }
            }
        }
    }
}
