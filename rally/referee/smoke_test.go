package referee
import "testing"
func TestSmoke(t *testing.T){ if English()==nil {t.Fatal()} }
