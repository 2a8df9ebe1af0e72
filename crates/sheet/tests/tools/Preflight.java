import org.apache.pdfbox.preflight.ValidationResult;
import org.apache.pdfbox.preflight.parser.PreflightParser;

/** Validates PDF/A-1b files (ISO 19005-1) and prints what it finds. */
public class Preflight {
    public static void main(String[] files) throws Exception {
        boolean bad = false;
        for (String file : files) {
            PreflightParser parser = new PreflightParser(file);
            parser.parse();
            try (var document = parser.getPreflightDocument()) {
                document.validate();
                ValidationResult result = document.getResult();
                for (ValidationResult.ValidationError error : result.getErrorsList()) {
                    System.out.println(file + ": " + error.getErrorCode() + " " + error.getDetails());
                }
                bad |= !result.isValid();
                System.out.println(file + (result.isValid() ? " is PDF/A-1b" : " is not PDF/A-1b"));
            }
        }
        System.exit(bad ? 1 : 0);
    }
}
