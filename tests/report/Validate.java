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

/** Validates files. Arguments: profiles joined by commas (3a,3u,ua1) and a file, as often as there are files. A line for
 * each file and profile: file, profile, yes or no; and one for each check that failed: nothing, rule, message, where.
 * All parted by tabs. */
class Validate {
    public static void main(String[] arguments) throws Exception {
        VeraGreenfieldFoundryProvider.initialise();
        for (int at = 0; at < arguments.length; at += 2) {
            List<PDFAFlavour> profiles = new ArrayList<>();
            for (String name : arguments[at].split(",")) {
                profiles.add(PDFAFlavour.byFlavourId(name));
            }
            File file = new File(arguments[at + 1]);
            try (PDFAParser parser = Foundries.defaultInstance().createParser(file, profiles.get(0));
                    PDFAValidator validator = Foundries.defaultInstance().createValidator(profiles)) {
                for (ValidationResult result : validator.validateAll(parser)) {
                    System.out.println(String.join("\t", arguments[at + 1], result.getPDFAFlavour().getId(),
                        result.isCompliant() ? "yes" : "no"));
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
