"""What differs between two versions, kind by kind, and which of it somebody must look at."""
