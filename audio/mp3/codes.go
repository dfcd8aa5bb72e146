package mp3

// codeTables are the Huffman codes of ISO/IEC 11172-3 table B.7 (the numbers as
// in github.com/hajimehoshi/go-mp3, Apache licence; the tests show that every
// code is complete and that other decoders read the same). For each table the
// leaves stand from code 00… to code 11…: the length of the code (a is 10),
// then the pair of values, or in tables 32 and 33 the four bits, in hex.
var codeTables = map[int]string{
	1: `
		311 301 210 100`,
	2: `
		622 602 512 521 520 311 301 310 100`,
	3: `
		622 602 512 521 520 310 211 201 200`,
	5: `
		833 823 732 631 713 703 730 722 612 621 602 620 311 301 310 100`,
	6: `
		733 703 623 632 630 513 531 522 502 412 421 420 301 211 310 300`,
	7: `
		a55 a45 a54 a53 935 944 925 952 815 851 905 934 850 943 933 824 842 714 741 740 804 823 832 803
		713 731 730 722 612 521 602 620 411 301 310 100`,
	8: `
		b55 b54 a45 953 a35 a44 925 952 905 815 851 934 943 950 933 824 842 814 741 804 840 823 832 813
		831 803 830 622 602 620 412 421 211 301 310 200`,
	9: `
		955 945 835 853 954 905 844 825 852 815 751 734 743 850 804 724 742 733 740 614 641 623 632 513
		531 603 630 522 502 412 421 420 311 301 310 300`,
	10: `
		b77 b67 b76 b57 b75 b66 a47 a74 a56 a65 a37 a73 a46 b55 b54 a63 927 972 a64 a07 970 962 a45 a35
		906 a53 a44 817 871 936 926 a25 a52 915 951 a34 a43 816 861 860 905 950 924 942 933 904 814 841
		840 823 832 803 713 731 730 722 612 621 602 620 411 301 310 100`,
	11: `
		a77 a67 a76 a75 a66 a47 a74 b57 b55 a56 a65 937 973 946 a45 a54 a35 a53 827 872 964 907 771 817
		870 836 863 860 944 925 952 905 815 762 826 806 716 761 851 834 850 943 933 824 842 814 841 804
		840 723 732 613 631 703 730 622 521 412 502 520 311 301 310 200`,
	12: `
		a77 a67 976 957 975 966 947 974 965 856 837 973 955 827 872 846 864 817 871 907 970 836 863 845
		854 844 906 905 726 762 761 816 860 835 853 825 852 715 751 734 743 850 804 724 742 714 633 641
		623 632 740 703 630 513 531 522 412 421 502 520 400 311 301 310`,
	13: `
		jfe jfc ifd hed gff gef gdf gee gcf gde gbf gfb gce gdc haf he9 fec fdd gfa gcd fbe feb f9f ff9
		fea fbd fdb f8f ff8 fcc gae g9e f8e g7f g7e ef7 eda fad fbc fcb ff6 e6f ee8 e5f e9d ed9 ef5 ee7
		eac ebb e4f ef4 fca fe6 ef3 d3f e8d ed8 d2f df2 e6e e9c d0f ec9 e5e dab e7d ed7 d4e ec8 ed6 d3e
		db9 e9b eaa c1f cf1 cf0 dba de5 de4 d8c d6d de3 ce2 d2e d0e c1e ce1 de0 d5d dd5 d7c dc7 d4d d8b
		db8 dd4 d9a da9 d6c cc6 c3d dd3 d7b c2d cd2 c1d cb7 d5c dc5 d99 d7a cc3 da7 d97 c4b bd1 c0d cd0
		c8a ca8 c4c cc4 c6b cb6 b3c b2c bc2 b5b cb5 c89 b1c bc1 c98 c0c bc0 cb4 c6a ca6 c79 b3b bb3 c88
		c5a b2b ca5 c69 ba4 c78 c87 b94 c77 c76 ab2 a1b ab1 b0b bb0 b96 b4a b3a ba3 b59 b95 a2a aa2 a1a
		aa1 b0a b68 aa0 b86 b49 a93 b39 b58 b85 b67 a29 a92 b57 b75 a38 a83 b66 b47 b74 b56 b65 b73 919
		991 a09 a90 a48 a84 a72 b46 b64 928 982 918 a37 a27 917 971 a55 a07 a70 a36 a63 a45 a54 a26 a62
		a35 881 908 980 916 961 906 960 a53 a44 925 952 905 815 851 934 943 950 924 942 933 814 741 804
		840 823 832 713 731 703 730 722 612 621 602 620 411 401 310 100`,
	15: `
		dff def dfe ddf cee dfd dcf dfc dde ded dbf cfb dce dec cdd caf cfa cbe ceb ccd cdc c9f cf9 cea
		cbd cdb c8f cf8 ccc c9e ce9 c7f cf7 cad cda cbc c6f dae d0f bcb bf6 c8e ce8 c5f c9d bf5 b7e be7
		bac bca bbb cd9 c8d b4f bf4 b3f bf3 bd8 be6 b2f bf2 c6e cf0 b1f bf1 b9c bc9 b5e bab bba be5 b7d
		bd7 b4e be4 b8c bc8 b3e b6d bd6 be3 b9b bb9 b2e baa be2 b1e be1 c0e ce0 b5d bd5 b7c bc7 b4d b8b
		ad4 bb8 b9a ba9 b6c bc6 b3d ad3 ad2 b2d b0d a1d a7b ab7 ad1 b5c bd0 ac5 a8a aa8 a4c ac4 a6b ab6
		b99 b0c a3c ac3 a7a aa7 aa6 bc0 b0b 9c2 a2c a5b ab5 a1c a89 a98 ac1 a4b ab4 a6a a3b a79 9b3 a97
		a88 a2b a5a 9b2 aa5 a1b 9b1 ab0 a69 a96 a4a aa4 a78 a87 a3a 9a3 959 995 92a 9a2 91a 9a1 a0a aa0
		968 986 949 994 939 993 a77 a09 958 985 929 967 976 992 891 919 990 948 984 957 975 938 983 966
		947 828 882 818 881 974 908 980 956 965 937 973 946 827 872 864 817 855 871 907 970 836 863 845
		854 826 862 816 906 960 835 761 853 844 725 752 715 751 805 850 734 743 724 742 733 641 714 704
		623 632 740 703 613 631 630 522 512 521 502 520 311 401 410 300`,
	16: `
		bef bfe bdf bfd bcf bfc bbf bfb aaf bfa b9f bf9 bf8 a8f a7f af7 a6f af6 8ff a5f af5 94f 9f4 9f3
		9f0 a3f gce hec hdd fde fe9 gea gd9 eee fed feb ebe ecd fdc fdb eae ecc fad fda f7e fac eca fc9
		f7d e5e dbd 8f2 92f 90f 81f 8f1 d9e ebc ecb e8e ee8 e9d ee7 ebb e8d ed8 e6e de6 d9c eab eba ee5
		ed7 d4e ee4 e8c dc8 d3e d6d ed6 e9b eb9 eaa de1 dd4 eb8 ea9 d7b eb7 ed0 ce3 d0e de0 d5d dd5 d7c
		dc7 d4d d8b d9a d6c dc6 d3d d5c dc5 c0d d8a da8 d99 d4c db6 d7a c3c d5b d89 c1c cc0 d98 d79 be2
		c2e c1e cd3 c2d cd2 cd1 c3b d97 d88 b1d cc4 c6b cc3 ca7 b2c cc2 cb5 cc1 c0c c4b cb4 c6a ca6 bb3
		c5a ca5 b2b bb2 b1b bb1 c0b cb0 c69 c96 c4a ca4 c78 c87 ba3 c3a c59 b2a c95 c68 ba1 c86 c77 b94
		c49 c57 b67 aa2 a1a b0a ba0 b39 b93 b58 b85 a29 a92 b76 b09 a19 a91 b90 b48 b84 b75 b38 b83 b66
		b28 a82 b47 b74 a18 a81 a80 b08 b56 a37 a73 b65 b46 a27 a72 b64 b55 a07 917 971 a70 a36 a63 a45
		a54 a26 962 916 961 a06 a60 953 a35 a44 925 952 851 915 905 934 943 950 924 942 933 814 841 904
		940 823 832 713 731 803 830 722 612 621 602 620 411 401 310 100`,
	24: `
		8ef 8fe 8df 8fd 8cf 8fc 8bf 8fb 7fa 8af 89f 7f9 7f8 88f 87f 7f7 76f 7f6 75f 7f5 74f 7f4 73f 7f3
		72f 7f2 7f1 81f 8f0 90f bee bde bed bce bec bdd bbe beb bcd bdc bae bea bbd bdb bcc b9e be9 bad
		bda bbc bcb b8e be8 b9d bd9 b7e be7 bac 4ff bca bbb b8d bd8 c0e ce0 b0d ae6 b6e b9c ac9 a5e aba
		ae5 bab b7d ad7 ae4 a8c ac8 b4e b2e a3e a6d ad6 ae3 a9b ab9 aaa ae2 a1e ae1 a5d ad5 a7c ac7 a4d
		a8b ab8 ad4 a9a aa9 a6c ac6 a3d ad3 a2d ad2 a1d a7b ab7 ad1 a5c ac5 a8a aa8 a99 a4c ac4 a6b ab6
		bd0 b0c a3c ac3 a7a aa7 a2c ac2 a5b ab5 a1c a89 a98 ac1 a4b bc0 b0b a3b bb0 b0a a1a 9b4 a6a aa6
		a79 a97 ba0 b09 a90 9b3 988 a2b a5a 9b2 aa5 a1b ab1 a69 996 9a4 a4a a78 987 93a 9a3 959 995 92a
		9a2 9a1 968 986 977 949 994 939 993 958 985 929 967 976 992 919 991 948 984 957 975 938 983 966
		928 982 918 947 974 981 a08 a80 956 965 917 a07 a70 873 937 927 872 846 864 855 871 836 863 845
		854 826 862 816 861 906 960 835 853 844 825 852 815 905 950 751 834 843 724 742 733 714 741 804
		840 723 732 613 631 703 730 622 512 521 602 620 411 401 410 400`,
	32: `
		60b 60f 60d 60e 607 605 509 506 503 50a 50c 402 401 404 408 100`,
	33: `
		40f 40e 40d 40c 40b 40a 409 408 407 406 405 404 403 402 401 400`,
}
