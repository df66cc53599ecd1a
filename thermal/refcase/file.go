package refcase

import (
	"encoding/json"
	"os"
)

// IDs returns the names of all cases of a reference file.
func IDs(path string) ([]string, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var file struct{ Cases []struct{ ID string } }
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, err
	}
	var ids []string
	for _, c := range file.Cases {
		ids = append(ids, c.ID)
	}
	return ids, nil
}
